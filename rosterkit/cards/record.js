"use strict";
// Makes of the lines of a card, as they are ticked and typed, the pairs that record what was read back.

// A line as it stands: read is a number, "-" without an acknowledgment, null where nothing usable is typed.
function lineOf(step) {
  const tick = step.querySelector(".tick input");
  const typed = step.querySelector(".number").value.trim();
  const isByte = /^[0-9]{1,3}$/.test(typed) && Number(typed) <= 255;
  const isSilent = typed === "-" || step.querySelector(".noack input").checked;
  return {
    cv: Number(step.dataset.cv),
    index: step.dataset.index ? step.dataset.index.split(" ").map(Number) : null,
    ticked: Boolean(tick && tick.checked),
    unusable: typed !== "" && typed !== "-" && !isByte,
    read: isSilent ? "-" : isByte ? Number(typed) : null,
  };
}

// The pairs of one card. Of several lines of a CV the last that was ticked or read tells what the decoder
// holds. CV31 and CV32 before a CV of an index are those read there, or else those on the card.
function pairsOf(card) {
  const lines = [...card.querySelectorAll(".step")].map(lineOf);
  const last = new Map();
  lines.forEach((line, at) => {
    if (line.ticked || line.read !== null) last.set(`${line.cv} ${line.index}`, at);
  });
  const unindexed = [];
  const pairs = [];
  const told = { 31: null, 32: null };
  let here = {};
  lines.forEach((line, at) => {
    const isIndex = line.cv === 31 || line.cv === 32;
    if (isIndex) here = { ...here, [line.cv]: typeof line.read === "number" ? line.read : null };
    if (line.read === null || (!isIndex && last.get(`${line.cv} ${line.index}`) !== at)) return;
    const pair = `${line.cv}=${line.read}`;
    if (isIndex && typeof line.read === "number") told[line.cv] = line.read;
    if (line.index) {
      const wanted = [here[31] ?? line.index[0], here[32] ?? line.index[1]];
      if (told[31] !== wanted[0] || told[32] !== wanted[1]) pairs.push(`31=${wanted[0]}`, `32=${wanted[1]}`);
      [told[31], told[32]] = wanted;
    }
    // A CV whose index nobody knows goes before CV31 and CV32, which would be taken for it.
    const isUnknown = !line.index && line.cv >= 257 && line.cv <= 512 && (here[31] ?? here[32] ?? null) === null;
    (isUnknown ? unindexed : pairs).push(pair);
  });
  return [...unindexed, ...pairs];
}
