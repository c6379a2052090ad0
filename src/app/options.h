/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The commands, the options, and which takes which: the one list behind the reading of the command line, its
 * help, and what the man page is compared with (tests/docs.sh). Included with macros of one's choice.
 *
 * COMMAND(name, words, fewest, most, summary, help): the words it takes, how many, a line, more lines for its
 *     --help. The function is command_NAME().
 * OPTION(word, field, value, help): where its value is put in struct arguments, the word for that value
 *     (NULL: it takes none), a line.
 * USE(command, option, value, form): in the order of the usage; value: what it is in this command, NULL: the
 *     option's own word. form: MUST, MAY; MAY_AGAIN: several times; WITH: together with the one before;
 *     OR: in place of it.
 */
#ifndef COMMAND
#define COMMAND(name, words, fewest, most, summary, help)
#endif
#ifndef OPTION
#define OPTION(word, field, value, help)
#endif
#ifndef USE
#define USE(command, option, value, form)
#endif

COMMAND(plan, "PROJECT", 1, 1, "the whole plan: counts, shaping, floats and catches, yarn, words",
        "PROJECT is a project file (- reads it from standard input).\n"
        "--as json prints the same plan for other programs (docs/plan.schema.json).\n"
        "--as pdf, or a FILE that ends in .pdf: A4 pages to print, the first of them for the bag.\n"
        "--table FILE uses your own copy of a table (see: strandwise tables).\n")
USE(plan, "--as", "text|json|pdf", MAY)
USE(plan, "-o", NULL, MAY)
USE(plan, "--table", NULL, MAY_AGAIN)

COMMAND(directions, "PROJECT", 1, 1, "only the words for each round or row", "")
USE(directions, "-o", NULL, MAY)
USE(directions, "--table", NULL, MAY_AGAIN)

COMMAND(draw, "PROJECT", 1, 1, "the charts with every catch, in the window or drawn to true proportion",
        "All bands in the order of knitting, or the one named with --band.\n"
        "--show changes marks the stitches that would save catches in another yarn.\n"
        "--show dents maps where catches fall so close together that the fabric may dent.\n"
        "--side wrong shows the strands as they lie inside, and where they are tied in.\n"
        "Without more, in characters: a yarn's mark for each stitch, behind it that of a strand caught.\n"
        "-o FILE ending in .svg (for browsers and drawing programs), .pdf (A4 pages), .png or .txt\n"
        "says the form, and so does --as.\n"
        "--cell 5 makes each stitch 5 mm wide, --cell true as wide as it is knitted.\n")
USE(draw, "--band", NULL, MAY)
USE(draw, "--show", "chart|changes|dents", MAY)
USE(draw, "--side", NULL, MAY)
USE(draw, "--as", "text|svg|pdf|png", MAY)
USE(draw, "--cell", NULL, MAY)
USE(draw, "-o", NULL, MAY)
USE(draw, "--table", NULL, MAY_AGAIN)

COMMAND(lesson, "PROJECT", 1, 1, "a sheet for a class: find the long floats and catch them, with the answers",
        "A PDF on A4: the chart without catches and what to find in it; then the answers; then the\n"
        "wrong side. All bands, or the one named with --band.\n")
USE(lesson, "--band", NULL, MAY)
USE(lesson, "-o", NULL, MAY)
USE(lesson, "--table", NULL, MAY_AGAIN)

COMMAND(ladder, "PROJECT", 1, 1, "the same chart at one gauge after another, from fine to heavy yarn",
        "The gauges of the section [ladder], or the middle of each yarn weight. PROJECT need not have\n"
        "a swatch.\n")
USE(ladder, "--as", "text|json", MAY)
USE(ladder, "-o", NULL, MAY)
USE(ladder, "--table", NULL, MAY_AGAIN)

COMMAND(check, "PROJECT", 1, 1, "judge a project and proof-read its charts",
        "Of every chart: the symmetries it keeps or just misses, whether the repeat meets itself, stray\n"
        "stitches, stitches left out of a seeding, rows of three colours, shades too close in lightness.\n")
USE(check, "--table", NULL, MAY_AGAIN)

COMMAND(start, "[FOLDER]", 0, 1, "write a starter project and its chart, to change into your own",
        "Nothing that is there already is written over.\n")

COMMAND(spread, "FROM to TO", 2, 3, "increases or decreases spread evenly, as a line to knit from",
        "Example: strandwise spread 72 to 84\n")
USE(spread, "--flat", NULL, MAY)

COMMAND(fit, "REPEAT", 1, 1, "how a repeat meets a measure, and the ways round it",
        "Example: strandwise fit 12 --measure '10 1/4 in' --stitches 32 --over '4 in'\n")
USE(fit, "--measure", NULL, MUST)
USE(fit, "--stitches", NULL, MUST)
USE(fit, "--over", NULL, MUST)
USE(fit, "--flat", NULL, MAY)

COMMAND(float, "STITCHES", 1, 1, "how long a float is, and where to catch it",
        "Example: strandwise float 9 --stitches 32 --over '4 in'\n")
USE(float, "--stitches", NULL, MUST)
USE(float, "--over", NULL, MUST)
USE(float, "--leave-up-to", NULL, MAY)
USE(float, "--catch-at", NULL, OR)

COMMAND(resize, "PROJECT", 1, 1, "a chart redrawn for another gauge at the same finished size",
        "The new gauge: --gauge '26 sts, 34 rows' --over '4 in', or that of [try NAME] with --try NAME;\n"
        "if neither is given the gauge as it is, with another number of stitches or rows.\n"
        "--columns and --rows say how many stitches and rows the new repeat is to have; else those\n"
        "nearest its true size that keep every symmetry and fit the piece (--around another one).\n"
        "Old and new are shown, with what becomes of floats and catches; --as json prints the same for\n"
        "other programs (docs/redraw.schema.json). --draw FILE draws both beside each other at one\n"
        "finished size (.svg, .pdf or .png).\n"
        "-o FILE writes the new chart (.chart, .txt, or .png with one dot a stitch), and --replace lets\n"
        "it write over one.\n")
USE(resize, "--band", NULL, MAY)
USE(resize, "--gauge", NULL, MAY)
USE(resize, "--over", NULL, WITH)
USE(resize, "--try", NULL, OR)
USE(resize, "--columns", NULL, MAY)
USE(resize, "--rows", NULL, MAY)
USE(resize, "--around", NULL, MAY)
USE(resize, "--as", "text|json", MAY)
USE(resize, "--draw", NULL, MAY)
USE(resize, "-o", NULL, MAY)
USE(resize, "--replace", NULL, MAY)
USE(resize, "--table", NULL, MAY_AGAIN)

COMMAND(tables, "[NAME]", 0, 1, "the tables the numbers stand on",
        "NAME prints one table; --check looks through it, or through all, your own copies included.\n")
USE(tables, "--check", NULL, MAY)
USE(tables, "--table", NULL, MAY_AGAIN)

OPTION("--around", around, "LENGTH", "the measure the redrawn repeat is to go into")
OPTION("--as", as, "FORM", "how it comes out")
OPTION("--band", band, "NAME", "this band only")
OPTION("--catch-at", catch_at, "LENGTH", "floats of this length or longer are caught")
OPTION("--cell", cell, "MM", "how wide a stitch is drawn")
OPTION("--check", check, NULL, "look through the tables")
OPTION("--columns", columns, "COUNT", "so many stitches in the redrawn repeat")
OPTION("--draw", draw, "FILE", "draw old beside new")
OPTION("--flat", flat, NULL, "worked flat, not in the round")
OPTION("--gauge", gauge, "'STITCHES sts, ROWS rows'", "the gauge to redraw for")
OPTION("--leave-up-to", leave, "LENGTH", "floats of up to this length are left loose")
OPTION("--measure", measure, "LENGTH", "the finished measure")
OPTION("--over", over, "LENGTH", "the length the stitches or rows were counted over")
OPTION("--replace", replace, NULL, "a chart may be written over")
OPTION("--rows", rows, "COUNT", "so many rows in the redrawn chart")
OPTION("--show", show, "WHAT", "what is drawn")
OPTION("--side", side, "right|wrong", "which side is drawn")
OPTION("--stitches", stitches, "COUNT", "the stitches counted")
OPTION("--table", table, "FILE", "use this copy of a table")
OPTION("--try", try_name, "NAME", "the gauge of a [try] of the project")
OPTION("-o", out_path, "FILE", "write to this file")

#undef COMMAND
#undef OPTION
#undef USE
