"""What findings about consists, accessories, extra values, speed tables and readings say, word for word."""

SAID = (
    (
        "readings-contradict",
        "of one day without times",
        "CV4 read 6 here and 5 in D2 on 2026-04-18, and nothing says which is newer",
        "Enter the time in Time, or remove the older row.",
    ),
    (
        "readings-contradict",
        "without a date",
        "CV4 read 5 here and 6 in D3 without a date, and nothing says which is newer",
        "Enter the day in Date, or remove the older row.",
    ),
    (
        "readings-contradict",
        "no acknowledgment, and a value",
        "CV4 read 5 here and nothing in D3 on 2026-04-18, and nothing says which is newer",
        "Enter the time in Time, or remove the older row.",
    ),
    (
        "loco-unknown",
        "in Consists, most like an engine that is in it already",
        "there is no engine 'JV 210' in Locomotives",
        "Did you mean 'JV 2102'? Spell it as there, or remove the row.",
    ),
    (
        "momentum-differs",
        "of a consist, at each that has more",
        "Acceleration comes to 9 here and to 8 in 'A' (C2), of the same consist 'X'",
        "Set Acceleration to 8.",
    ),
    (
        "momentum-differs",
        "engines that match, through another",
        "Acceleration comes to 9 here and to 7 in 'C' (C4), with which it is to run alike",
        "Set Acceleration to 7.",
    ),
    (
        "momentum-differs",
        "CV23 and CV24 make up for a difference, and make one",
        "Deceleration comes to 6 here and to 5 in 'B' (D3), of the same consist 'X'",
        "Set Deceleration to 4.",
    ),
    (
        "momentum-differs",
        "what CV23 adds is more than the least: it has to go as well",
        "Acceleration comes to 5 here and to 2 in 'B' (C3), of the same consist 'X'",
        "Set Acceleration to 2, and CV23 in Extra values to 0.",
    ),
    (
        "headlight-within-consist",
        "the rear light of the leading one",
        "F0r of 'A' lights another engine",
        "Take F0r out of Functions; write none if nothing is left.",
    ),
    (
        "consist-without-headlight",
        "none",
        "'A' leads, and its headlight (F0f) is not in Functions",
        "Add F0f to Functions.",
    ),
    (
        "extra-value-clashes",
        "every CV that a column sets",
        "CV1 is set by Address, so it would be keyed in twice",
        "Remove the row, and use Address.",
    ),
    (
        "extra-value-clashes",
        "one CV twice",
        "CV49 of 'A' appears 2 times (also in B3)",
        "Remove all rows but one.",
    ),
    ("register-not-writable", "CV7 and CV8", "CV7 cannot be set: it is the version", "Remove the row."),
    (
        "page-missing",
        "CV257 and CV512 without",
        "CV257 needs an index, and Index high is blank",
        "Enter both Index high (CV31) and Index low (CV32), as the decoder's instructions give them.",
    ),
    (
        "page-unused",
        "an index at CV49",
        "CV49 takes no index: only CV257 to CV512 do",
        "Correct the CV, or empty the index.",
    ),
    (
        "bidi-configuration-unused",
        "CV28 while BiDi is off",
        "CV28 = 3 does nothing while BiDi is off",
        "Set BiDi of 'A' to on, or remove the row.",
    ),
    ("speed-table-incomplete", "27 values", "'Slow' has no value at step 8", "Fill all 28 columns."),
    (
        "speed-table-falls",
        "step 9 below step 8",
        "'Slow' falls from 28 at step 8 to 27 at step 9",
        "Make step 9 at least 28.",
    ),
    (
        "speed-table-unknown",
        "a table that there is not",
        "'Slow' is not in the sheet Speed tables",
        "Enter its values there, or spell it as there.",
    ),
    (
        "speed-table-unused",
        "with three points",
        "'Slow' is not used: Speed curve is 3-point",
        "Set Speed curve to table, or empty the cell.",
    ),
    (
        "table-repeated",
        "the same label",
        "'Slow' appears 2 times (also in A3)",
        "Give each speed table a label of its own.",
    ),
    (
        "consist-address-shared",
        "the short address of an engine outside",
        "85 is also the address of 'C' (B4)",
        "Give the consist 'X' or 'C' another address.",
    ),
    (
        "consist-address-shared",
        "the address of an engine inside is a note",
        "12 is also the address of 'A' (B2), which is in the consist: it cannot be driven alone",
        "Give the consist 'X' or 'A' another address.",
    ),
    (
        "consist-address-shared",
        "another consist",
        "85 is also the address of the consist 'Y' (B3)",
        "Give 'X' or 'Y' another address.",
    ),
    (
        "consist-address-shared",
        "at a meet across workbooks, consists that come only",
        "85 is also the address of 'C' (b.xlsx B2)",
        "Give the consist 'X' or 'C' another address.",
    ),
    (
        "consist-addresses-differ",
        "two addresses",
        "'X' has 86 here and 85 above",
        "Give all rows of the consist the same address.",
    ),
    (
        "consist-outside-range",
        "outside",
        "85 is in no range for consists",
        "Choose another for all its rows, such as 90.",
    ),
    (
        "loco-in-two-consists",
        "in two consists, and twice in one",
        "'A' appears in 3 rows of Consists (also in D3)",
        "Remove all of them but one.",
    ),
    (
        "consist-address-cut",
        "a decoder of which nobody said it, and one of no listed kind",
        "1234 needs CV20, which a decoder 'New' may not have: without it the engine is in consist 34",
        "Give the consist an address from 1 to 127, or enter yes at CV20 in Decoder types if its manual says "
        "so.",
    ),
    (
        "consist-address-cut",
        "without CV20 it would answer as an engine",
        "1234 needs CV20, which its decoder may not have: without it the engine is in consist 34, an address "
        "in use",
        "Give the consist an address from 1 to 127, or enter yes at CV20 in Decoder types if its manual says "
        "so.",
    ),
    (
        "consist-without-lead",
        "nobody leads",
        "no engine of 'X' has Position 1",
        "Enter Position 1 at the one that leads.",
    ),
    (
        "consist-without-lead",
        "two lead",
        "'B' and 'A' both have Position 1 in 'X'",
        "Enter Position 1 at the one that leads only.",
    ),
    (
        "consist-decoder-left-out",
        "one is in",
        "'A' is in consist 'X', its other decoder is not",
        "Enter 'A sound' in Consists as well, with the same address and facing.",
    ),
    (
        "function-unknown",
        "F15 has no bit of its own",
        "function 'F15' is not one of F0f, F0r, F1 to F12, F13-F20, F21-F28",
        "Write them as in F0f F0r F1 F8, or none.",
    ),
    (
        "loco-unknown",
        "in Consists",
        "there is no engine 'C' in Locomotives",
        "Spell it as there, or remove the row.",
    ),
    (
        "loco-unknown",
        "in Readings",
        "there is no engine 'JV 2110' in Locomotives",
        "Did you mean 'JV 2101'? Spell it as there, or remove the row.",
    ),
    (
        "accessory-address-shared",
        "the same number by both methods",
        "17 is also the number of 'U' (B3)",
        "Give 'T' or 'U' another number.",
    ),
    (
        "accessory-address-shared",
        "an output among the four numbers of a decoder",
        "20 is one of the four numbers that the decoder of 'T' (B2) answers",
        "Use a number from another four, or enter Outputs of 'T' if it has fewer.",
    ),
    (
        "accessory-address-shared",
        "three of one number, each finding beside the cell of the device that it names",
        "17 is also the number of 'T' (B2) and 1 more",
        "Give all but one of 'V', 'T' and 'U' another number.",
    ),
    (
        "accessory-address-shared",
        "several outputs by the method output take the numbers after the first",
        "20 is also answered by 'T' (B2), whose decoder answers 17 to 20",
        "Give one of them another number, or correct Outputs.",
    ),
    (
        "accessory-address-shared",
        "a signal by extended packets on the number of a turnout by basic ones",
        "17 is also answered by 'U' (B3), in extended packets",
        "Give one of them another number, unless whoever calls them always knows which kind it is.",
    ),
    (
        "accessory-address-reserved",
        "the outputs of a decoder that reach into the broadcast, and those that begin again after 2048",
        "its decoder answers 2047 to 2048 and 1 to 2: they begin again after 2048",
        "Use a number from 1 to 2040.",
    ),
    (
        "accessory-beyond-outputs",
        "the third number of a decoder of two outputs",
        "19 is beyond Outputs 2: its decoder answers 17 to 18",
        "Enter Outputs 3 or more, or Address 17 to 18.",
    ),
    (
        "accessory-decoder-contradictory",
        "four outputs and two on one decoder",
        "Outputs is 4 here and 2 for 'V' (D4), on the same decoder",
        "Enter the same Outputs in both rows, or correct an Address.",
    ),
    (
        "accessory-aspects-beyond",
        "33 aspects",
        "33 aspects: a packet of NMRA S-9.2.1 of 2012 names 32",
        "Make sure that both the decoder and the command station take so many.",
    ),
    (
        "accessory-bit-missing",
        "CV29 and CV541 without bit 7",
        "CV541 = 0 is without bit 7 (128): an accessory decoder is then called by the commands of "
        "locomotives, not of accessories",
        "Key in CV541 = 128; or correct Loco, if it was an engine's.",
    ),
    (
        "accessory-reading-differs",
        "another decoder's address, a stated bit, and 255",
        "CV541 reads 160, wanted 168 for 'T'",
        "Key in CV541 = 168, or correct the row in Accessories.",
    ),
    (
        "accessory-reading-differs",
        "another decoder's address, a stated bit, and 255",
        "CV9 reads 255, so probably nothing was read",
        "Connect something to the decoder's outputs; read it again.",
    ),
    (
        "accessory-outside-range",
        "the four of a decoder that end outside",
        "19 to 20, which its decoder answers too, are in no range for accessories",
        "Choose from 1 to 18.",
    ),
    (
        "accessory-address-reserved",
        "2041 to 2044 are the broadcast, and then the numbers wrap",
        "2041 is decoder address 511, by NMRA S-9.2.1 of 2012 the broadcast to every accessory decoder; its "
        "edition of 2025 is reported to have dropped that",
        "Use a number from 1 to 2040.",
    ),
    ("accessory-outside-range", "outside", "41 is in no range for accessories", "Choose from 1 to 40."),
    (
        "accessory-repeated",
        "the same label",
        "'T' appears 2 times (also in A3)",
        "Give each device a label of its own.",
    ),
    ("reading-differs", "another value", "CV4 reads 6, wanted 5", "Key in CV4 = 5, or correct the roster."),
    (
        "reading-differs",
        "the direction bit beside one that is explained",
        "CV29 reads 39, wanted 34 (direction reversed, DC operation on)",
        "Key in CV29 = 34, or correct the roster.",
    ),
    (
        "reading-differs",
        "an index is known where the engine has the CV under one",
        "CV300 of index 16/1 reads 8, wanted 7",
        "Key in CV300 = 7, or correct the roster.",
    ),
    (
        "reading-unreliable",
        "255 everywhere",
        "all 3 CVs read 255 or gave no acknowledgment, so probably nothing was read",
        "Look for a buffer capacitor, dirty wheels or a motor that is not connected; read again.",
    ),
    (
        "reading-unreliable",
        "one without answer is a note",
        "CV29 gave no acknowledgment; the value may still have been written",
        "Clean wheels and rails and read it again; some decoders lack the CV.",
    ),
    (
        "decoder-not-as-listed",
        "another maker, and another version",
        "CV8 reads 14; a decoder 'Sound' has 13 there, its manufacturer ID",
        "Make sure that the right engine is on the track; else correct Decoder or Decoder types.",
    ),
    (
        "decoder-not-as-listed",
        "a manufacturer ID above 255 is in CV107 and CV108",
        "CV108 reads 3; a decoder 'Sound' has 2 there, its manufacturer ID's low byte",
        "Make sure that the right engine is on the track; else correct Decoder or Decoder types.",
    ),
    (
        "lock-closed",
        "closed",
        "the lock is closed: CV15 = 1 is not CV16 = 2, so only CV15 can be written",
        "Key in CV15 = 2 before anything else.",
    ),
    (
        "lock-closed",
        "closed by a command",
        "the lock is closed: CV15 = 1 is not CV16 = 240, so only CV15 can be written",
        "Do not key in CV15 = 240, a command by RCN-225; there CV15 = 255 opens every lock.",
    ),
    (
        "lock-closed",
        "closed to one decoder of several is a note",
        "the lock is closed: CV15 = 1 is not CV16 = 2, so only CV15 can be written "
        "until its own number is keyed in",
        "Key in CV15 = 2 before anything else.",
    ),
    (
        "consist-left-behind",
        "in an old one, reverse",
        "still in consist 38, and the roster has the engine in none: "
        "it ignores speed and direction sent to its own address",
        "Key in CV19 = 0.",
    ),
    (
        "consist-left-behind",
        "in an old one of its own address",
        "still in consist 12, and the roster has the engine in none: "
        "short 12 is its own address too, so it heeds speed and direction sent there",
        "Key in CV19 = 0.",
    ),
    (
        "consist-left-behind",
        "in an old one of four digits",
        "still in consist 1200, and the roster has the engine in none: "
        "it ignores speed and direction sent to its own address",
        "Key in CV19 = 0 and CV20 = 0.",
    ),
    (
        "meet-address-left",
        "still its meet address",
        "still answers its meet address, long 1000, and not short 12",
        "Give it back short 12, or read with --meet while the meet lasts.",
    ),
    (
        "pair-half-taken",
        "the wanted CV17, the factory CV18",
        "CV17 was taken and CV18 was not: it reads 232 as before, wanted 210; "
        "until CV18 is written the address before stays",
        "Key in CV17 and CV18 again, directly one after the other.",
    ),
    (
        "pair-half-taken",
        "the factory CV17, the wanted CV18",
        "CV18 was taken and CV17 was not: it reads 195 as before, wanted 196; "
        "together they are another address",
        "Key in CV17 and CV18 again, directly one after the other.",
    ),
    (
        "factory-values-left",
        "the factory pair and a usual CV29",
        "CV17 = 195, CV18 = 232 and CV29 = 6 are factory values: "
        "long 1234 is not keyed in yet, or was not taken",
        "Key in what the engine's card says.",
    ),
    (
        "factory-values-left",
        "the factory pair",
        "CV17 = 195 and CV18 = 232 are factory values: long 1234 is not keyed in yet, or was not taken",
        "Key in what the engine's card says.",
    ),
    (
        "factory-values-left",
        "short 3",
        "CV1 = 3 and CV29 = 6 are factory values: short 12 is not keyed in yet, or was not taken",
        "Key in what the engine's card says.",
    ),
    (
        "factory-values-left",
        "short 3, the CV29 as wanted",
        "CV1 = 3 is the factory value: short 12 is not keyed in yet, or was not taken",
        "Key in what the engine's card says.",
    ),
    (
        "decoder-not-as-listed",
        "another version",
        "CV7 reads 22; a decoder 'Sound' has 21 there, its version: "
        "another decoder, or a newer or older version of it",
        "Make sure that the right engine is on the track; else correct Decoder or Decoder types.",
    ),
    (
        "reading-differs",
        "bit 7 says accessory decoder",
        "CV29 reads 162, wanted 34 "
        "(bit 7 marks an accessory decoder; a locomotive decoder with it may not answer on DCC)",
        "Key in CV29 = 34, or correct the roster.",
    ),
    (
        "address-not-active",
        "the pair, and CV29 short",
        "long 1000 is stored, but CV29 = 2 makes the engine answer the short address in CV1",
        "Key in CV29 = 34.",
    ),
    (
        "address-not-active",
        "CV1, and CV29 long",
        "short 12 is stored, but CV29 = 34 makes the engine answer the long address in CV17 and CV18",
        "Key in CV29 = 2.",
    ),
    (
        "dc-operation-still-on",
        "still on",
        "DC operation is still on in the engine: CV29 reads 38, wanted 34",
        "Key in CV29 = 34.",
    ),
    (
        "dc-operation-still-on",
        "on, and kept as the cell is blank",
        "DC operation is on in the engine: CV29 reads 38, and DC operation is blank, so it stays on",
        "Set DC operation to off, and key in CV29 = 34; or to on if it is meant.",
    ),
    (
        "address-shared",
        "engines of one consist that share on purpose",
        "short 12 is also the address of 'B' (B3), in the same consist",
        "Nothing, as long as they never run apart.",
    ),
)
"""Check, line of its table, message, fix."""
