/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Every section and key of a project file: the one list that the reader, its messages and
 * the check of docs/project-file.md go by. Included several times, hence no include guard;
 * define SECTION or KEY, or both, before including.
 *
 * SECTION(id, head, naming, what it holds)
 *   naming: ALONE ([float]) or NAMED ([yarn cream]).
 * KEY(section id, key, form, form in words, range, default, example, struct, field)
 *   The form says how a value is read: FORMS in project_reader.h. A choice is worded "a | b | c"
 *   and read in this order (the enums of project.h follow it).
 *   A range is what the reader enforces: "LOW to HIGH" or "more than LOW, up to HIGH", with a
 *   unit where the value has one; two ranges of different units are set apart by ", or ".
 *   Lengths are ranged in inches and may be written in in, cm, mm, m or yd.
 *   A default of a choice, a whole number or a mark is what is read where nothing is said; so is a
 *   default that begins with {row}, a row of tables/allowances.csv, its unit behind it or a ratio
 *   as per cent; "{row - 1}" is one less. A default "none" means: nothing is assumed. "needed":
 *   the plan cannot do without.
 *   Struct and field: where the value goes, in struct project or in the one that a named section is.
 * AGAIN(...): a key that may be given again with a number behind it, `unravelled 2`, as often as
 *   its field, an array, has room.
 */
#ifndef SECTION
#define SECTION(id, head, naming, what)
#endif
#ifndef KEY
#define KEY(section, key, form, words, range, fallback, example, into, field)
#endif
#ifndef AGAIN
#define AGAIN KEY
#endif

SECTION(PROJECT, "project", ALONE, "the piece as a whole")
KEY(PROJECT, "title", TEXT, "words", "", "none", "Tide-line sock tops", project, title)
KEY(PROJECT, "make", WHOLE, "a whole number", "1 to 100", "1", "2", project, make)
KEY(PROJECT, "worked", CHOICE, "round | flat", "", "round", "round", project, worked)
KEY(PROJECT, "units", CHOICE, "in | cm", "", "in", "in", project, units)
KEY(PROJECT, "no stitch", MARK, "one mark", "", "-", "-", project, no_stitch)

SECTION(SWATCH, "swatch", ALONE, "the stranded swatch, as measured")
KEY(SWATCH, "worked", CHOICE, "round | flat", "", "as the piece", "round", project, swatch.worked)
KEY(SWATCH, "washed", YES, "yes | no", "", "no", "yes", project, swatch.washed)
KEY(SWATCH, "over", LENGTH, "a length", "more than 0, up to 100 in", "needed", "4 in", project,
    swatch.over)
KEY(SWATCH, "stitches", COUNTS, "counts with commas between", "more than 0, up to 400", "needed",
    "31 1/2, 32, 32 1/4", project, swatch.stitches)
KEY(SWATCH, "rows", COUNTS, "counts with commas between", "more than 0, up to 400", "needed",
    "38, 38 1/2, 38", project, swatch.rows)
AGAIN(SWATCH, "unravelled", UNRAVELLED, "one row taken out, and the yarn it gave", "1 to 1000",
    "none", "40 stitches: cream 28 took 15 1/8 in, slate 12 took 9 5/8 in", project,
    swatch.unravelled)
AGAIN(SWATCH, "marked", MARKED, "stitches that a marked length of yarn made", "1 to 100000", "none",
    "75 stitches took 36 in", project, swatch.marked)
AGAIN(SWATCH, "weight", WEIGHT, "a weight: so many stitches, so many rows",
    "more than 0, up to 1000 g", "none", "6.6 g: 40 stitches, 44 rows", project, swatch.weight)
AGAIN(SWATCH, "ball weighed", BALL_WEIGHED,
    "a yarn, its ball before and after: stitches, those in the yarn", "more than 0, up to 20000 g",
    "none", "cream 48.3 g to 44.1 g: 1600 stitches, 950 in cream", project, swatch.weighed)
KEY(SWATCH, "scale", GRAMS, "the least weight the scale shows", "more than 0, up to 100 g",
    "as finely as a weight is written", "0.1 g", project, swatch.scale)
KEY(SWATCH, "needle", NEEDLE, "a thickness with its unit", "more than 0, up to 2 in", "none",
    "2.75 mm", project, swatch.needle)
KEY(SWATCH, "pulls", PULLS,
    "relaxed length to pulled length, and the scarcer yarn's stitches of how many",
    "more than 0, up to 100 in", "none", "4 in to 5.3 in, 1 of 2", project, swatch.pulls)
KEY(SWATCH, "size", LENGTH, "a length", "more than 0, up to 100 in",
    "over, and {swatch_border_in} in at each side", "6 in", project, swatch.size)

SECTION(SWATCH_PLAIN, "swatch plain", ALONE, "a swatch of the plain fabric, as measured")
KEY(SWATCH_PLAIN, "worked", CHOICE, "round | flat", "", "as the piece", "round", project,
    swatch_plain.worked)
KEY(SWATCH_PLAIN, "washed", YES, "yes | no", "", "no", "yes", project, swatch_plain.washed)
KEY(SWATCH_PLAIN, "over", LENGTH, "a length", "more than 0, up to 100 in", "needed", "4 in",
    project, swatch_plain.over)
KEY(SWATCH_PLAIN, "stitches", COUNTS, "counts with commas between", "more than 0, up to 400",
    "needed", "30, 30 1/4", project, swatch_plain.stitches)
KEY(SWATCH_PLAIN, "rows", COUNTS, "counts with commas between", "more than 0, up to 400", "needed",
    "40, 40 1/2", project, swatch_plain.rows)
AGAIN(SWATCH_PLAIN, "unravelled", UNRAVELLED, "one row taken out, and the yarn it gave",
    "1 to 1000", "none", "40 stitches took 19 1/4 in", project, swatch_plain.unravelled)
AGAIN(SWATCH_PLAIN, "marked", MARKED, "stitches that a marked length of yarn made", "1 to 100000",
    "none", "75 stitches took 36 in", project, swatch_plain.marked)
AGAIN(SWATCH_PLAIN, "weight", WEIGHT, "a weight: so many stitches, so many rows",
    "more than 0, up to 1000 g", "none", "5.2 g: 40 stitches, 44 rows", project,
    swatch_plain.weight)
AGAIN(SWATCH_PLAIN, "ball weighed", BALL_WEIGHED, "a yarn, its ball before and after: stitches",
    "more than 0, up to 20000 g", "none", "cream 48.3 g to 44.1 g: 1600 stitches", project,
    swatch_plain.weighed)
KEY(SWATCH_PLAIN, "scale", GRAMS, "the least weight the scale shows", "more than 0, up to 100 g",
    "as finely as a weight is written", "0.1 g", project, swatch_plain.scale)
KEY(SWATCH_PLAIN, "needle", NEEDLE, "a thickness with its unit", "more than 0, up to 2 in", "none",
    "2.75 mm", project, swatch_plain.needle)
KEY(SWATCH_PLAIN, "pulls", PULLS, "relaxed length to pulled length", "more than 0, up to 100 in",
    "none", "4 in to 6 in", project, swatch_plain.pulls)
KEY(SWATCH_PLAIN, "size", LENGTH, "a length", "more than 0, up to 100 in",
    "over, and {swatch_border_in} in at each side", "6 in", project, swatch_plain.size)

SECTION(MEASURE, "measure", ALONE, "the finished measurements")
KEY(MEASURE, "around", LENGTH, "a length", "more than 0, up to 1000 in", "needed in the round",
    "10 1/4 in", project, around)
KEY(MEASURE, "width", LENGTH, "a length", "more than 0, up to 1000 in", "needed for flat work",
    "15 1/2 in", project, width)
KEY(MEASURE, "ease", EASE, "per cent, or a length with its unit",
    "-60 % to 100 %, or -40 in to 40 in", "0", "2 %", project, ease)
KEY(MEASURE, "counts", CHOICE, "each | together", "", "each", "together", project, counts)
KEY(MEASURE, "height", LENGTH, "a length", "more than 0, up to 1000 in", "none", "1 1/2 in",
    project, height)
KEY(MEASURE, "sizes", SIZES, "names, each with its around or width, commas between",
    "more than 0, up to 1000 in", "none", "S 8 in, M 9 in, L 10 in", project, sizes)
KEY(MEASURE, "must pass", LENGTH, "a length", "more than 0, up to 1000 in", "none", "12 1/4 in",
    project, must_pass)

SECTION(CAST_ON, "cast-on", ALONE, "the cast-on edge and its rib")
KEY(CAST_ON, "kind", CHOICE, "long tail | other | provisional", "", "long tail", "long tail",
    project, cast_on.kind)
KEY(CAST_ON, "yarn", YARN, "a yarn", "", "the first yarn that is knitted", "cream", project,
    cast_on.yarn)
KEY(CAST_ON, "purl yarn", YARN, "a yarn", "", "the same yarn", "slate", project, cast_on.purl_yarn)
KEY(CAST_ON, "rib", RIB, "knit N purl N, N rounds", "1 to 500", "no rib",
    "knit 2 purl 2, 12 rounds", project, cast_on.rib)
KEY(CAST_ON, "rib stitches", RIB_STITCHES, "same, a number of stitches, or per cent",
    "1 to 100000, or 50 % to 150 %", "same", "72", project, cast_on.stitches)

SECTION(BAND, "band", NAMED, "a band worked from charts, in knitting order")
KEY(BAND, "chart", CHARTS, "chart files, the first at the right, commas between", "", "needed",
    "ripple.chart", part, chart[0])
KEY(BAND, "repeats", REPEATS, "fit, or a whole number", "1 to 10000", "fit", "7", part, repeats)
KEY(BAND, "upwards", WHOLE, "a whole number", "1 to 1000", "1", "3", part, upwards)
KEY(BAND, "plain before", PLAIN_ROUNDS, "so many rounds of a yarn", "1 to 1000", "none",
    "1 round cream", part, before)
KEY(BAND, "plain after", PLAIN_ROUNDS, "so many rounds of a yarn", "1 to 1000", "none",
    "2 rounds cream", part, after)
KEY(BAND, "around", MEASURE, "a length, or per cent of that of [measure]",
    "more than 0, up to 1000 in, or 1 % to 500 %", "that of [measure]", "40 in", part, around)
KEY(BAND, "width", MEASURE, "a length, or per cent of that of [measure]",
    "more than 0, up to 1000 in, or 1 % to 500 %", "that of [measure]", "15 1/2 in", part, width)
KEY(BAND, "ease", EASE, "per cent, or a length with its unit", "-60 % to 100 %, or -40 in to 40 in",
    "that of [measure]", "0 %", part, ease)
KEY(BAND, "must pass", LENGTH, "a length", "more than 0, up to 1000 in", "that of [measure]",
    "12 1/4 in", part, must_pass)
KEY(BAND, "count", CHOICE, "own | as below", "", "own", "as below", part, count)
KEY(BAND, "remedy", REMEDY, "a way round, and its repeats", "1 to 1000000", "none",
    "plain columns, 5 repeats", part, remedy)
KEY(BAND, "begin with", STITCH, "a stitch of the chart", "1 to 5000", "stitch 1", "stitch 5", part,
    begin)
KEY(BAND, "across", STITCHES, "a number of stitches", "1 to 5000", "one pixel a stitch",
    "24 stitches", part, across)

SECTION(PLAIN, "plain", NAMED, "a part in one yarn, in knitting order with the bands")
KEY(PLAIN, "yarn", YARN, "a yarn", "", "needed", "cream", part, yarn)
KEY(PLAIN, "length", LENGTH, "a length", "more than 0, up to 1000 in",
    "this, rounds or stitches needed", "5 in", part, length)
KEY(PLAIN, "rounds", ROUNDS, "a number of rounds", "1 to 100000", "this, length or stitches needed",
    "48", part, rounds)
KEY(PLAIN, "rows", ROUNDS, "a number of rows", "1 to 100000", "the same as rounds", "48", part,
    rounds)
KEY(PLAIN, "stitches", STITCHES, "a number of stitches", "1 to 9999999",
    "this, length or rounds needed", "1850", part, stitches)
KEY(PLAIN, "stitches on needle", STITCHES, "a number of stitches", "1 to 100000",
    "as the part beside it", "72", part, on_needle)
KEY(PLAIN, "around", MEASURE, "a length, or per cent of that of [measure]",
    "more than 0, up to 1000 in, or 1 % to 500 %", "none", "9 in", part, around)
KEY(PLAIN, "width", MEASURE, "a length, or per cent of that of [measure]",
    "more than 0, up to 1000 in, or 1 % to 500 %", "none", "15 in", part, width)
KEY(PLAIN, "ease", EASE, "per cent, or a length with its unit",
    "-60 % to 100 %, or -40 in to 40 in", "that of [measure]", "-1/4 in", part, ease)

SECTION(YARN, "yarn", NAMED, "a yarn, and its mark in the chart")
KEY(YARN, "mark", MARK, "one mark", "", "needed where a chart uses it", "x", yarn, mark)
KEY(YARN, "shade", SHADE, "a colour's name, or # and three or six digits", "", "a grey", "#f3ead7",
    yarn, shade)
KEY(YARN, "ball", BALL, "a weight, a length",
    "more than 0, up to 20000 g, or more than 0, up to 20000 m", "none", "50 g, 210 m", yarn, ball)
KEY(YARN, "have", HAVE, "a weight or a length", "0 to 20000 g, or 0 to 20000 m", "none", "37 g",
    yarn, have)
KEY(YARN, "duplicate over", YARN, "a yarn", "", "it is knitted", "cream", yarn, duplicate_over)

SECTION(FLOAT, "float", ALONE, "floats and their catches")
KEY(FLOAT, "leave up to", LENGTH, "a length", "more than 0, up to 100 in",
    "{float_limit_in} in, a child's {float_limit_child_in} in", "1 in", project, leave_up_to)
KEY(FLOAT, "catch at", LENGTH, "a length", "more than 0, up to 100 in", "none", "1 in", project,
    catch_at)
KEY(FLOAT, "slack", RATIO, "per cent", "0 % to 60 %", "{slack_default - 1}, unless measured",
    "10 %", project, slack)
KEY(FLOAT, "stagger", STITCHES, "a number of columns", "1 to 3", "2", "2", project, stagger)
KEY(FLOAT, "spare catches", YES, "yes | no", "", "yes", "no", project, spare_catches)
KEY(FLOAT, "placement", CHOICE, "best | quick", "", "best, quick for a large chart", "quick",
    project, placement)
KEY(FLOAT, "clear ends", STITCHES, "a number of stitches", "1 to 2", "1", "2", project, clear_ends)
KEY(FLOAT, "carry up", LENGTH, "a length", "0 to 1000 in", "{carry_wait_in} in", "1 1/2 in",
    project, carry_up)

SECTION(EDGES, "edges", ALONE, "edges, steek, seam and ends")
KEY(EDGES, "selvedge", STITCHES, "a number of stitches", "0 to 20", "0", "1", project, selvedge)
KEY(EDGES, "steek", STITCHES, "a number of stitches", "0 to 30", "0", "7", project, steek)
KEY(EDGES, "bind-off", BIND_OFF, "standard, sewn, cord or none, and a yarn", "", "standard",
    "standard, cream", project, bind_off)
KEY(EDGES, "tail", LENGTH, "a length", "0 to 100 in", "{tail_in} in", "6 in", project, tail)
KEY(EDGES, "edges", CHOICE, "anchor | turn", "", "anchor", "anchor", project, edges)
KEY(EDGES, "seam", LENGTH, "a length", "0 to 1000 in", "none", "30 in", project, seam)

SECTION(BUY, "buy", ALONE, "what to buy")
KEY(BUY, "margin", RATIO, "per cent", "0 % to 100 %",
    "{margin_measured}, or {margin_gauge_only} where nothing was measured", "10 %", project, margin)
KEY(BUY, "confidence", RATIO, "per cent", "50 % to 99.9 %", "{buy_confidence}", "95 %", project,
    confidence)
KEY(BUY, "swatch", CHOICE, "keep | rip", "", "rip", "keep", project, swatch_fate)

SECTION(WEIGHED, "weighed", ALONE, "what the scale said on the way")
AGAIN(WEIGHED, "weighing", WEIGHING, "to begin with, or after a step: what is left of each yarn",
    "0 to 20000 g", "none", "after step 5: cream 94.6 g, slate 42.8 g", project, weighing)
KEY(WEIGHED, "not yarn", YARN_GRAMS, "what on the scale is no yarn, for each yarn", "0 to 20000 g",
    "none", "cream 2.3 g, slate 1.5 g", project, not_yarn)
KEY(WEIGHED, "scale", GRAMS, "the least weight the scale shows", "more than 0, up to 100 g",
    "that of [swatch], else as finely as a weight is written", "0.1 g", project, weighed_scale)

SECTION(PACE, "pace", ALONE, "how fast you knit")
KEY(PACE, "stitches an hour", STITCHES, "a number of stitches", "50 to 10000",
    "{pace_sts_per_hour}", "800", project, pace_sts_per_hour)

SECTION(WEARER, "wearer", ALONE, "who wears it")
KEY(WEARER, "child", YES, "yes | no", "", "no", "yes", project, child)

SECTION(TRY, "try", NAMED, "another yarn or needle to try on paper")
KEY(TRY, "over", LENGTH, "a length", "more than 0, up to 100 in", "needed", "4 in", try_gauge, over)
KEY(TRY, "stitches", COUNTS, "counts with commas between", "more than 0, up to 400", "needed", "22",
    try_gauge, stitches)
KEY(TRY, "rows", COUNTS, "counts with commas between", "more than 0, up to 400", "needed", "26",
    try_gauge, rows)
KEY(TRY, "ball", BALL, "a weight, a length",
    "more than 0, up to 20000 g, or more than 0, up to 20000 m", "that of each yarn", "50 g, 120 m",
    try_gauge, ball)
KEY(TRY, "needle", NEEDLE, "a thickness with its unit", "more than 0, up to 2 in", "none", "4 mm",
    try_gauge, needle)

SECTION(LADDER, "ladder", ALONE, "the same chart at one gauge after another, from fine yarn to heavy")
KEY(LADDER, "over", LENGTH, "a length", "more than 0, up to 100 in", "needed with stitches", "4 in",
    project, ladder.over)
KEY(LADDER, "stitches", COUNTS, "counts with commas between", "more than 0, up to 400",
    "the middle of each yarn weight", "32, 28, 24, 22, 20, 18", project, ladder.stitches)

#undef SECTION
#undef KEY
#undef AGAIN
