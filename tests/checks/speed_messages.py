"""What findings about timed runs and speed goals say, word for word."""

SAID = (
    (
        "run-unusable",
        "a distance without time",
        "this run has a distance but no time",
        "Enter the time, or 0 as the distance.",
    ),
    (
        "run-unusable",
        "a step in place of a drive where Vmid is not known",
        "this run has Step 7 only, and Vmid of 'A' is not known",
        "Enter Drive level, or Vstart, Vmid and Vhigh as they are in the decoder (0 where Vmid is not used).",
    ),
    (
        "run-unusable",
        "a step where 'rosterkit speed' set the points later",
        "this run has Step 7 only, and Vstart of 'A' is set by 'rosterkit speed', after this run",
        "Enter Drive level, or Vstart, Vmid and Vhigh as they are in the decoder (0 where Vmid is not used).",
    ),
    (
        "run-unusable",
        "a step of 128 by a speed table",
        "this run has Step 7 of 128, and a speed table says the drives of 28",
        "Enter Drive level.",
    ),
    (
        "run-stands-out",
        "one of three",
        "'A': forward, a run at drive level 60 is 60 % faster than the other 2, and does not count: "
        "perhaps km/h taken for mph",
        "Check its distance and time, or time it again forward at drive level 60.",
    ),
    (
        "runs-too-few",
        "one way only",
        "'A': it was timed forward only, so nothing is known of how it runs in reverse, and it gets no trims",
        "Time three runs in reverse at each of three drive levels at least.",
    ),
    (
        "runs-too-short",
        "3 seconds",
        "'A': 28 runs are short: the shortest took 3.0 s, and timing by hand leaves 7 % of its speed open",
        "Run 10 s or more for 2 %, 20 s for 1 %: a longer distance or several laps.",
    ),
    (
        "speed-falls",
        "slower at 170 than at 110",
        "'A': forward, it is 13 % slower at drive level 170 than at 110; the curve is held level there",
        "Time three runs forward at each of drive level 110 and 170 again.",
    ),
    (
        "goal-unreached",
        "faster than it was seen to run",
        "'A': forward, it was timed no faster than 25 % below the wanted top speed",
        "Want a lower top speed.",
    ),
    (
        "goal-unreached",
        "slower than it starts",
        "'A': no speed is left between the slowest at which all run and the fastest that is wanted",
        "Time it at lower drive levels, or want a higher top speed.",
    ),
    (
        "goal-unreached",
        "own points that fall",
        "'A': the speed falls from step 7 to step 14",
        "Correct Points.",
    ),
    (
        "speed-unit-doubtful",
        "a pair 1.609 apart",
        "'B' is 1.61 times as fast as 'A': perhaps km/h taken for mph",
        "Check the unit in which the two were measured, or time 'A' again.",
    ),
    (
        "speeds-differ",
        "three values for a bent curve",
        "'B': engines that match differ by 9.8 % of the top speed at step 28",
        "Time them at more drive levels near that speed, or want another top speed.",
    ),
    (
        "top-speed-outside-band",
        "above it",
        "'A': its top speed will be 100 km/h; the band is 60 to 78 km/h",
        "Set Top speed within the band, if it can be reached.",
    ),
    (
        "siding-too-short",
        "too short",
        "'A': with Deceleration 5 its stopping distance is 715 mm from the top step, "
        "and the siding has 600 mm",
        "Set Deceleration of 'A' to 4 at most.",
    ),
    (
        "siding-too-short",
        "too short for what Stops within comes to",
        "'A': with Deceleration 6 its stopping distance is 858 mm from the top step, "
        "and the siding has 600 mm",
        "Set Stops within to 600 mm at most.",
    ),
    (
        "steps-idle",
        "few drives",
        "'A': its whole range of speeds lies between drive level 15 and 30, so 12 of 28 steps are no "
        "faster than the one before",
        "Raise Top speed, or accept the idle steps.",
    ),
    (
        "entry-in-the-way",
        "another value typed",
        "Acceleration is 3 by your own entry; its speed goal comes to 10",
        "Empty it, and run 'rosterkit speed' again.",
    ),
    (
        "entry-in-the-way",
        "a table of its label",
        "'A': this table is your own, or you changed it, and it is left alone",
        "Rename it, and run 'rosterkit speed' again.",
    ),
    (
        "goal-not-applied",
        "before the first run of speed",
        "'A': this goal's values are not written yet, or are out of date",
        "Run 'rosterkit speed'.",
    ),
)
