/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Every section and key of a project file: the one list that the reader, its messages and
 * the check of docs/project-file.md go by. Included several times, hence no include guard;
 * define SECTION or KEY, or both, before including.
 *
 * SECTION(id, head, naming, what it holds)
 *   naming: ALONE ([float]) or NAMED ([yarn cream]).
 * KEY(section id, key, form in words, range, default, example)
 *   A form "a | b | c" is a choice, read in this order (the enums of project.h follow it).
 *   A range is what the reader enforces: "LOW to HIGH" or "more than LOW, up to HIGH", with a
 *   unit where the value has one; two ranges of different units are set apart by ", or ".
 *   Lengths are ranged in inches and may be written in in, cm, mm, m or yd.
 *   A default of a choice, a whole number or a mark is what is read where nothing is said. {row} in
 *   a default: that row of tables/allowances.csv, its unit behind it or a ratio as per cent.
 *   A default "none" means: nothing is assumed. "needed": the plan cannot do without.
 * AGAIN(section id, key): the key may be given again with a number behind it, `unravelled 2`, up
 *   to 9. MANY(section id, key): the same, up to 40.
 */
#ifndef SECTION
#define SECTION(id, head, naming, what)
#endif
#ifndef KEY
#define KEY(section, key, form, range, fallback, example)
#endif
#ifndef AGAIN
#define AGAIN(section, key)
#endif
#ifndef MANY
#define MANY(section, key)
#endif

SECTION(PROJECT, "project", ALONE, "the piece as a whole")
KEY(PROJECT, "title", "words", "", "none", "Tide-line sock tops")
KEY(PROJECT, "make", "a whole number", "1 to 100", "1", "2")
KEY(PROJECT, "worked", "round | flat", "", "round", "round")
KEY(PROJECT, "units", "in | cm", "", "in", "in")
KEY(PROJECT, "no stitch", "one mark", "", "-", "-")

SECTION(SWATCH, "swatch", ALONE, "the stranded swatch, as measured")
KEY(SWATCH, "worked", "round | flat", "", "as the piece", "round")
KEY(SWATCH, "washed", "yes | no", "", "no", "yes")
KEY(SWATCH, "over", "a length", "more than 0, up to 100 in", "needed", "4 in")
KEY(SWATCH, "stitches", "counts with commas between", "more than 0, up to 400", "needed",
    "31 1/2, 32, 32 1/4")
KEY(SWATCH, "rows", "counts with commas between", "more than 0, up to 400", "needed",
    "38, 38 1/2, 38")
KEY(SWATCH, "unravelled", "one row taken out, and the yarn it gave", "1 to 1000", "none",
    "40 stitches: cream 28 took 15 1/8 in, slate 12 took 9 5/8 in")
KEY(SWATCH, "marked", "stitches that a marked length of yarn made", "1 to 100000", "none",
    "75 stitches took 36 in")
KEY(SWATCH, "weight", "a weight: so many stitches, so many rows", "more than 0, up to 1000 g",
    "none", "6.6 g: 40 stitches, 44 rows")
KEY(SWATCH, "ball weighed", "a yarn, its ball before and after: stitches, those in the yarn",
    "more than 0, up to 20000 g", "none",
    "cream 48.3 g to 44.1 g: 1600 stitches, 950 in cream")
KEY(SWATCH, "scale", "the least weight the scale shows", "more than 0, up to 100 g",
    "as finely as a weight is written", "0.1 g")
AGAIN(SWATCH, "unravelled")
AGAIN(SWATCH, "marked")
AGAIN(SWATCH, "weight")
AGAIN(SWATCH, "ball weighed")
KEY(SWATCH, "needle", "a thickness with its unit", "more than 0, up to 2 in", "none", "2.75 mm")
KEY(SWATCH, "pulls", "relaxed length to pulled length, and the scarcer yarn's stitches of how many",
    "more than 0, up to 100 in", "none", "4 in to 5.3 in, 1 of 2")
KEY(SWATCH, "size", "a length", "more than 0, up to 100 in",
    "over, and {swatch_border_in} in at each side", "6 in")

SECTION(SWATCH_PLAIN, "swatch plain", ALONE, "a swatch of the plain fabric, as measured")
KEY(SWATCH_PLAIN, "worked", "round | flat", "", "as the piece", "round")
KEY(SWATCH_PLAIN, "washed", "yes | no", "", "no", "yes")
KEY(SWATCH_PLAIN, "over", "a length", "more than 0, up to 100 in", "needed", "4 in")
KEY(SWATCH_PLAIN, "stitches", "counts with commas between", "more than 0, up to 400", "needed",
    "30, 30 1/4")
KEY(SWATCH_PLAIN, "rows", "counts with commas between", "more than 0, up to 400", "needed",
    "40, 40 1/2")
KEY(SWATCH_PLAIN, "unravelled", "one row taken out, and the yarn it gave", "1 to 1000", "none",
    "40 stitches took 19 1/4 in")
KEY(SWATCH_PLAIN, "marked", "stitches that a marked length of yarn made", "1 to 100000", "none",
    "75 stitches took 36 in")
KEY(SWATCH_PLAIN, "weight", "a weight: so many stitches, so many rows",
    "more than 0, up to 1000 g", "none", "5.2 g: 40 stitches, 44 rows")
KEY(SWATCH_PLAIN, "ball weighed", "a yarn, its ball before and after: stitches",
    "more than 0, up to 20000 g", "none", "cream 48.3 g to 44.1 g: 1600 stitches")
KEY(SWATCH_PLAIN, "scale", "the least weight the scale shows", "more than 0, up to 100 g",
    "as finely as a weight is written", "0.1 g")
AGAIN(SWATCH_PLAIN, "unravelled")
AGAIN(SWATCH_PLAIN, "marked")
AGAIN(SWATCH_PLAIN, "weight")
AGAIN(SWATCH_PLAIN, "ball weighed")
KEY(SWATCH_PLAIN, "needle", "a thickness with its unit", "more than 0, up to 2 in", "none",
    "2.75 mm")
KEY(SWATCH_PLAIN, "pulls", "relaxed length to pulled length", "more than 0, up to 100 in", "none",
    "4 in to 6 in")
KEY(SWATCH_PLAIN, "size", "a length", "more than 0, up to 100 in",
    "over, and {swatch_border_in} in at each side", "6 in")

SECTION(MEASURE, "measure", ALONE, "the finished measurements")
KEY(MEASURE, "around", "a length", "more than 0, up to 1000 in", "needed in the round",
    "10 1/4 in")
KEY(MEASURE, "width", "a length", "more than 0, up to 1000 in", "needed for flat work",
    "15 1/2 in")
KEY(MEASURE, "ease", "per cent, or a length with its unit", "-60 % to 100 %, or -40 in to 40 in",
    "0", "2 %")
KEY(MEASURE, "counts", "each | together", "", "each", "together")
KEY(MEASURE, "height", "a length", "more than 0, up to 1000 in", "none", "1 1/2 in")
KEY(MEASURE, "sizes", "names, each with its around or width, commas between",
    "more than 0, up to 1000 in", "none", "S 8 in, M 9 in, L 10 in")
KEY(MEASURE, "must pass", "a length", "more than 0, up to 1000 in", "none", "12 1/4 in")

SECTION(CAST_ON, "cast-on", ALONE, "the cast-on edge and its rib")
KEY(CAST_ON, "kind", "long tail | other | provisional", "", "long tail", "long tail")
KEY(CAST_ON, "yarn", "a yarn", "", "the first yarn that is knitted", "cream")
KEY(CAST_ON, "purl yarn", "a yarn", "", "the same yarn", "slate")
KEY(CAST_ON, "rib", "knit N purl N, N rounds", "1 to 500", "no rib", "knit 2 purl 2, 12 rounds")
KEY(CAST_ON, "rib stitches", "same, a number of stitches, or per cent",
    "1 to 100000, or 50 % to 150 %", "same", "72")

SECTION(BAND, "band", NAMED, "a band worked from charts, in knitting order")
KEY(BAND, "chart", "chart files, the first at the right, commas between", "", "needed",
    "ripple.chart")
KEY(BAND, "repeats", "fit, or a whole number", "1 to 10000", "fit", "7")
KEY(BAND, "upwards", "a whole number", "1 to 1000", "1", "3")
KEY(BAND, "plain before", "so many rounds of a yarn", "1 to 1000", "none", "1 round cream")
KEY(BAND, "plain after", "so many rounds of a yarn", "1 to 1000", "none", "2 rounds cream")
KEY(BAND, "around", "a length, or per cent of that of [measure]",
    "more than 0, up to 1000 in, or 1 % to 500 %", "that of [measure]", "40 in")
KEY(BAND, "width", "a length, or per cent of that of [measure]",
    "more than 0, up to 1000 in, or 1 % to 500 %", "that of [measure]", "15 1/2 in")
KEY(BAND, "ease", "per cent, or a length with its unit", "-60 % to 100 %, or -40 in to 40 in",
    "that of [measure]", "0 %")
KEY(BAND, "must pass", "a length", "more than 0, up to 1000 in", "that of [measure]", "12 1/4 in")
KEY(BAND, "count", "own | as below", "", "own", "as below")
KEY(BAND, "remedy", "a way round, and its repeats", "1 to 1000000", "none",
    "plain columns, 5 repeats")
KEY(BAND, "begin with", "a stitch of the chart", "1 to 5000", "stitch 1", "stitch 5")
KEY(BAND, "across", "a number of stitches", "1 to 5000", "one pixel a stitch", "24 stitches")

SECTION(PLAIN, "plain", NAMED, "a part in one yarn, in knitting order with the bands")
KEY(PLAIN, "yarn", "a yarn", "", "needed", "cream")
KEY(PLAIN, "length", "a length", "more than 0, up to 1000 in", "this, rounds or stitches needed",
    "5 in")
KEY(PLAIN, "rounds", "a number of rounds", "1 to 100000", "this, length or stitches needed", "48")
KEY(PLAIN, "rows", "a number of rows", "1 to 100000", "the same as rounds", "48")
KEY(PLAIN, "stitches", "a number of stitches", "1 to 9999999",
    "this, length or rounds needed", "1850")
KEY(PLAIN, "stitches on needle", "a number of stitches", "1 to 100000",
    "as the part beside it", "72")
KEY(PLAIN, "around", "a length, or per cent of that of [measure]",
    "more than 0, up to 1000 in, or 1 % to 500 %", "none", "9 in")
KEY(PLAIN, "width", "a length, or per cent of that of [measure]",
    "more than 0, up to 1000 in, or 1 % to 500 %", "none", "15 in")
KEY(PLAIN, "ease", "per cent, or a length with its unit", "-60 % to 100 %, or -40 in to 40 in",
    "that of [measure]", "-1/4 in")

SECTION(YARN, "yarn", NAMED, "a yarn, and its mark in the chart")
KEY(YARN, "mark", "one mark", "", "needed where a chart uses it", "x")
KEY(YARN, "shade", "a colour's name, or # and three or six digits", "", "a grey", "#f3ead7")
KEY(YARN, "ball", "a weight, a length",
    "more than 0, up to 20000 g, or more than 0, up to 20000 m", "none", "50 g, 210 m")
KEY(YARN, "have", "a weight or a length", "0 to 20000 g, or 0 to 20000 m", "none", "37 g")
KEY(YARN, "duplicate over", "a yarn", "", "it is knitted", "cream")

SECTION(FLOAT, "float", ALONE, "floats and their catches")
KEY(FLOAT, "leave up to", "a length", "more than 0, up to 100 in",
    "{float_limit_in} in, a child's {float_limit_child_in} in",
    "1 in")
KEY(FLOAT, "catch at", "a length", "more than 0, up to 100 in", "none", "1 in")
KEY(FLOAT, "slack", "per cent", "0 % to 60 %", "measured, else {slack_default - 1}", "10 %")
KEY(FLOAT, "stagger", "a number of columns", "1 to 3", "2", "2")
KEY(FLOAT, "spare catches", "yes | no", "", "yes", "no")
KEY(FLOAT, "placement", "best | quick", "", "best, quick for a large chart", "quick")
KEY(FLOAT, "clear ends", "a number of stitches", "1 to 2", "1", "2")
KEY(FLOAT, "carry up", "a length", "0 to 1000 in", "{carry_wait_in} in", "1 1/2 in")

SECTION(EDGES, "edges", ALONE, "edges, steek, seam and ends")
KEY(EDGES, "selvedge", "a number of stitches", "0 to 20", "0", "1")
KEY(EDGES, "steek", "a number of stitches", "0 to 30", "0", "7")
KEY(EDGES, "bind-off", "standard, sewn, cord or none, and a yarn", "", "standard",
    "standard, cream")
KEY(EDGES, "tail", "a length", "0 to 100 in", "{tail_in} in", "6 in")
KEY(EDGES, "edges", "anchor | turn", "", "anchor", "anchor")
KEY(EDGES, "seam", "a length", "0 to 1000 in", "none", "30 in")

SECTION(BUY, "buy", ALONE, "what to buy")
KEY(BUY, "margin", "per cent", "0 % to 100 %",
    "{margin_measured}, or {margin_gauge_only} where nothing was measured", "10 %")
KEY(BUY, "confidence", "per cent", "50 % to 99.9 %", "{buy_confidence}", "95 %")
KEY(BUY, "swatch", "keep | rip", "", "rip", "keep")

SECTION(WEIGHED, "weighed", ALONE, "what the scale said on the way")
KEY(WEIGHED, "weighing", "to begin with, or after a step: what is left of each yarn",
    "0 to 20000 g", "none", "after step 5: cream 94.6 g, slate 42.8 g")
KEY(WEIGHED, "not yarn", "what on the scale is no yarn, for each yarn", "0 to 20000 g", "none",
    "cream 2.3 g, slate 1.5 g")
KEY(WEIGHED, "scale", "the least weight the scale shows", "more than 0, up to 100 g",
    "that of [swatch], else as finely as a weight is written", "0.1 g")
MANY(WEIGHED, "weighing")

SECTION(PACE, "pace", ALONE, "how fast you knit")
KEY(PACE, "stitches an hour", "a number of stitches", "50 to 10000", "{pace_sts_per_hour}", "800")

SECTION(WEARER, "wearer", ALONE, "who wears it")
KEY(WEARER, "child", "yes | no", "", "no", "yes")

SECTION(TRY, "try", NAMED, "another yarn or needle to try on paper")
KEY(TRY, "over", "a length", "more than 0, up to 100 in", "needed", "4 in")
KEY(TRY, "stitches", "counts with commas between", "more than 0, up to 400", "needed", "22")
KEY(TRY, "rows", "counts with commas between", "more than 0, up to 400", "needed", "26")
KEY(TRY, "ball", "a weight, a length",
    "more than 0, up to 20000 g, or more than 0, up to 20000 m", "that of each yarn",
    "50 g, 120 m")
KEY(TRY, "needle", "a thickness with its unit", "more than 0, up to 2 in", "none", "4 mm")

SECTION(LADDER, "ladder", ALONE, "the same chart at one gauge after another, from fine yarn to heavy")
KEY(LADDER, "over", "a length", "more than 0, up to 100 in", "needed with stitches", "4 in")
KEY(LADDER, "stitches", "counts with commas between", "more than 0, up to 400",
    "the middle of each yarn weight", "32, 28, 24, 22, 20, 18")

#undef SECTION
#undef KEY
#undef AGAIN
#undef MANY
