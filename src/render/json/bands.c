/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A band: its counts, how it meets the measure, its colours and catches; and a band of a try.
 */
#include "tables.h"

/* --- catches ---------------------------------------------------------------------------- */

/* Yarn names as JSON strings, made once: a large chart names them a million times. */
struct quoted_names {
    struct text name[GRID_YARNS_MAX];
    size_t longest;
};

static void quote_names(const struct json *json, struct quoted_names *names)
{
    const struct plan_piece *piece = &json->plan->piece;

    names->longest = 0;
    for (int i = 0; i < piece->nyarns && i < GRID_YARNS_MAX; i++) {
        names->name[i] = text_create(json->out->arena);
        text_json_string(&names->name[i], piece->yarns[i].name);
        if (names->name[i].length > names->longest)
            names->longest = names->name[i].length;
    }
}

/* The most one line of the list below takes, its indent and two numbers included. */
static size_t mark_bytes(const struct quoted_names *names)
{
    return sizeof ",\n        {\"row\": 65536, \"column\": 65536, \"strand\": , \"behind\": }" +
           2 * names->longest;
}

/* Written in pieces that are ready: this is where a large plan spends its time. */
static void write_mark(struct text *out, const struct catch_mark *mark,
                       const struct quoted_names *names)
{
    static const char row[] = "{\"row\": ", column[] = ", \"column\": ",
                      strand[] = ", \"strand\": ", behind[] = ", \"behind\": ";
    const struct text *strand_name = &names->name[mark->strand];
    const struct text *behind_name = &names->name[mark->behind];

    text_add_bytes(out, row, sizeof row - 1);
    text_digits(out, mark->row + 1);
    text_add_bytes(out, column, sizeof column - 1);
    text_digits(out, mark->column + 1);
    text_add_bytes(out, strand, sizeof strand - 1);
    text_add_bytes(out, strand_name->bytes, strand_name->length);
    text_add_bytes(out, behind, sizeof behind - 1);
    text_add_bytes(out, behind_name->bytes, behind_name->length);
    text_add_bytes(out, "}", 1);
}

static void write_marks(struct json *json, const char *key, const struct catch_map *map)
{
    struct quoted_names names;
    int64_t count = map ? map->count : 0;

    quote_names(json, &names);
    text_reserve(json->out, (size_t)count * mark_bytes(&names));
    json_array_open(json, key);
    for (int64_t i = 0; i < count; i++) {
        json_value(json, NULL);
        write_mark(json->out, &map->mark[i], &names);
    }
    json_array_close(json);
}

static void write_catches(struct json *json, const char *key, const struct json_at *at)
{
    write_marks(json, key, ((const struct plan_band *)at->object)->catches);
}

static void write_edge_catches(struct json *json, const char *key, const struct json_at *at)
{
    write_marks(json, key, ((const struct plan_band *)at->object)->outer);
}

/* For the schema: write_mark() writes them. */

static const struct json_table catch_mark = {ON_A_LINE, ROWS{
    {"row", ITSELF(JSON_INT), FROM_1, "Chart row, from 1 at the cast-on edge."},
    {"column", ITSELF(JSON_INT), FROM_1, "Chart column, from 1 at the right."},
    {"strand", ITSELF(JSON_STRING), ANY, "Yarn that is caught."},
    {"behind", ITSELF(JSON_STRING), ANY, "Yarn of the stitch it is caught behind."},
    {0}}};

static const struct json_table edge_mark = {ON_A_LINE, ROWS{
    {"row", ITSELF(JSON_INT), FROM_1, "Chart row, from 1 at the cast-on edge."},
    {"column", ITSELF(JSON_INT), FROM_1,
     "Stitch of the whole row, from 1 at the right; no-stitch squares keep theirs."},
    {"strand", ITSELF(JSON_STRING), ANY, "Yarn that is caught."},
    {"behind", ITSELF(JSON_STRING), ANY, "Yarn of the stitch it is caught behind."},
    {0}}};

static const struct json_table tight = {ON_A_LINE, ROWS{
    {"row", NUMBERED(plan_tight, row), FROM_1, "Chart row, from 1."},
    {"column", NUMBERED(plan_tight, column), FROM_1,
     "Chart column, from 1 at the right; stitch of the whole row where rows have two ends."},
    {"strand", YARN(plan_tight, strand), ANY, "The yarn caught."},
    {0}}};

static const struct json_table spares = {ON_A_LINE, ROWS{
    {"catches", AT(plan_band, spares.catches), FROM_1, "Spare catches of it."},
    {"without_stacked", AT(plan_band, spares.without_stacked), FROM_0, "Pairs stacked without them."},
    {"without_doubled", AT(plan_band, spares.without_doubled), FROM_0, "Pairs doubled without them."},
    {"without_touching", AT(plan_band, spares.without_touching), FROM_0, "Pairs touching without them."},
    {0}}};

static const struct json_table crowding = {ON_A_LINE, ROWS{
    {"within_inches", AT(plan_dents, within_in), OVER_0,
     "How far round the middle of the stitch (crowding_reach_in of the table of allowances)."},
    {"most", AT(plan_dents, most), FROM_1, "Catches that near, one behind the stitch itself included."},
    {"row", NUMBERED(plan_dents, row), FROM_1, "Row of the chart, from 1 at the bottom."},
    {"column", NUMBERED(plan_dents, column), FROM_1,
     "Column of the chart as drawn, from 1 at the right: right side stitches, one repeat, left side stitches."},
    {0}}};

static const struct json_table cliff = {ON_A_LINE, ROWS{
    {"stitches_per_inch", AT(plan_cliff, per_in), OVER_0, "The gauge there, stitches per inch."},
    {"leave_stitches", AT(plan_cliff, leave_sts), FROM_0, "Longest run left loose there, stitches."},
    {"catches_fewest", AT(plan_cliff, catches), FROM_0, "Fewest catches in one repeat there, all colours."},
    {0}}};

static const struct json_table cliffs = {ON_LINES, ROWS{
    {"below", OBJECT(plan_band, below, cliff), OR_NULL,
     "Looser: just under stitches_per_inch. null: none within reach.", IF(plan_band, has_cliff_below)},
    {"above", OBJECT(plan_band, above, cliff), OR_NULL,
     "Tighter: from stitches_per_inch on. null: none within reach.", IF(plan_band, has_cliff_above)},
    {0}}};

static const struct json_table at_least = {ON_A_LINE, ROWS{
    {"stacks", AT(plan_band, proof.stacks), FROM_0, "Stacked and doubled pairs, at least."},
    {"catches", AT(plan_band, proof.catches), FROM_0, "Catches, at least, given so many stacks."},
    {"near", AT(plan_band, proof.near), FROM_0,
     "Pairs in neighbouring rows nearer than stagger columns, at least, given both."},
    {"squares", AT(plan_band, proof.squares), FROM_0,
     "Squared loose pieces of the floats caught, their sum at least, given all before."},
    {0}}};

static void write_stacks(struct json *json, const char *key, const struct json_at *at)
{
    const struct plan_band *band = at->object;

    json_whole(json, key, band->catches->stacked + band->catches->doubled);
}

static const struct json_table placed = {ON_A_LINE, ROWS{
    {"stacks", BY(JSON_INT64, write_stacks), FROM_0, "Stacked and doubled pairs."},
    {"catches", THROUGH(plan_band, catches, catch_map, count), FROM_0, "Catches."},
    {"near", AT(plan_band, proof.placed_near), FROM_0, "Pairs nearer than stagger."},
    {"squares", AT(plan_band, proof.placed_squares), FROM_0, "Sum of the squared loose pieces."},
    {0}}};

/* --- stitches in another yarn -------------------------------------------------------------- */

static const struct json_table cell = {ON_A_LINE, ROWS{
    {"row", NUMBERED(recolour_cell, row), FROM_1, "Row of the chart, from 1 at the bottom."},
    {"column", NUMBERED(recolour_cell, column), FROM_1, "Column of the repeat, from 1 at the right."},
    {"was", YARN(recolour_cell, was), ANY, "Yarn as charted."},
    {"becomes", YARN(recolour_cell, yarn), ANY, "Yarn that floats behind it."},
    {0}}};

static const struct json_table change = {ON_LINES, ROWS{
    {"catches_saved_repeat", AT(plan_recolour, saved_repeat), ANY,
     "Catches fewer, of the fewest, in one repeat as a closed ring."},
    {"catches_saved_piece", AT(plan_recolour, saved_piece), FROM_1, "The same in one piece as worked."},
    {"catches_saved", AT(plan_recolour, saved_all), FROM_1, "The same in all pieces."},
    {"stitches_changed_piece", AT(plan_recolour, sts_piece), FROM_1, "Stitches changed in one piece."},
    {"float_behind_stitches", AT(plan_recolour, behind_sts), FROM_0,
     "The longest float, behind a changed stitch, of the yarn it was in; 0: that yarn is no longer in the row, "
     "or makes no float there."},
    {"stitches", LIST(plan_recolour, cells, ncells, cell), ANY,
     "Those of one repeat, by row, then column.", .more = "\"minItems\": 1"},
    {0}}, "change",
    "Stitches of the repeat made in another yarn: one with its partners by the symmetries of the chart, or two such "
    "changes."};

static const struct json_table stitch_changes = {ON_LINES, ROWS{
    {"one", LIST_HERE(plan_recolours, one, nones, change), ANY,
     "Single changes, the most saved first, no two under one float; at most five.", .more = "\"maxItems\": 5"},
    {"two", OBJECT(plan_recolours, pair, change), OR_NULL,
     "The two that save most together. null: no better than the first alone.", IF(plan_recolours, has_pair)},
    {"two_certain", AT(plan_recolours, pair_certain), ANY, "true: no two such changes save more."},
    {0}}};

static bool was_searched(const struct json_at *at)
{
    return !((const struct plan_band *)at->object)->recolours.too_large;
}

/* --- how the repeats meet the measure ------------------------------------------------------- */

static const char *const remedy_words[] = {
    [FIT_ANOTHER_COUNT] = "another count", [FIT_SHAPE] = "shape", [FIT_PLAIN_COLUMNS] = "plain columns",
    [FIT_TRIM_OR_PAD] = "trim or pad", [FIT_PART_REPEATS] = "part repeats",
    [FIT_ANOTHER_GAUGE] = "another gauge", [FIT_REDRAW] = "redraw"};
/* As she writes them. */
static const char *const way_words[] = {
    "another count", "shape", "plain columns", "trim", "pad", "part repeats", "plain sides",
    "another gauge", "redraw"};

static const struct json_table remedy = {ON_LINES, ROWS{
    {"kind", WORD(fit_remedy, kind, remedy_words), ANY, "Which way round it."},
    {"word", ONE_OF(fit_remedy, word, way_words), ANY, "The way round as remedy = has it, without its repeats."},
    {"stitches", AT(fit_remedy, stitches), FROM_0, "Stitches in the band then, selvedge and steek left out."},
    {"repeats", AT(fit_remedy, repeats), FROM_0, "Whole repeats then, a count."},
    {"repeat_stitches", AT(fit_remedy, repeat_sts), FROM_1, "Stitches of the repeat then."},
    {"meets_measure", AT(fit_remedy, meets), ANY, "Whether it comes as near the measure as matters."},
    {"far_from_measure", AT(fit_remedy, far), ANY,
     "Whether it is farther from the measure than fit_far_ratio: then it comes after all that is nearer."},
    {"extra_rounds", AT(fit_remedy, extra_rounds), ANY, "Rounds or rows the piece has more then, a count."},
    {"increase", AT(fit_remedy, increase), FROM_0,
     "Stitches gained against what the rest keeps: before the band, or after it where decrease_first is true."},
    {"decrease", AT(fit_remedy, decrease), FROM_0,
     "Stitches lost again: after the band, or before it where decrease_first is true."},
    {"decrease_first", AT(fit_remedy, before_is_decrease), ANY,
     "true: decrease before the band and increase after it."},
    {"plain_columns", AT(fit_remedy, plain_columns), FROM_0, "Plain stitches added to each repeat."},
    {"plain_after_column", AT(fit_remedy, remake.plain_after), FROM_1 | OR_NULL,
     "Column of the chart after which they stand, from 1. null: none are added.", IF(fit_remedy, plain_columns)},
    {"columns", NUMBERS_HERE(fit_remedy, remake.column, remake.ncolumns), FROM_1,
     "Columns of the chart left out, or worked twice.", .each = "A column, from 1 at the right."},
    {"columns_twice", AT(fit_remedy, remake.twice), ANY, "true: those columns are worked twice."},
    {"left_over_stitches", AT(fit_remedy, left_over), FROM_0, "Stitches beside the whole repeats."},
    {"left_over_plain", AT(fit_remedy, remake.over_plain), ANY,
     "true: the stitches beside the whole repeats are plain; else part of a repeat."},
    {"finished_inches", AT(fit_remedy, finished_in), FROM_0,
     "Width of the band then, inches, at stitches_per_inch."},
    {"off_inches", AT(fit_remedy, off_in), ANY,
     "finished_inches less the width wanted, inches; minus: narrower."},
    {"stitches_per_inch", AT(fit_remedy, gauge_per_in), OVER_0,
     "Stitches per inch it supposes: the swatch's, or for another gauge the one needed."},
    {"longest_stitches", AT(fit_remedy, floats.longest_sts), FROM_0 | OR_NULL,
     "Stitches the longest float of the band then passes behind. null: not known before it is drawn.",
     IF(fit_remedy, floats.known)},
    {"over_limit", AT(fit_remedy, floats.over_limit), FROM_0 | OR_NULL,
     "Floats of the band over the limit then, one piece. null: not known.", IF(fit_remedy, floats.known)},
    {"catches_fewest", AT(fit_remedy, floats.catches_fewest), FROM_0 | OR_NULL,
     "Fewest catches of the band then, one piece. null: not known.", IF(fit_remedy, floats.known)},
    {"rows_no_longer_one_and_one", NUMBERS(fit_remedy, uneven_rows, nuneven_rows), FROM_1,
     "Rows of the chart, from 1, that are one and one as they are and would not be then."},
    {"rows_cut", NUMBERS(fit_remedy, torn_rows, ntorn_rows), FROM_1,
     "Rows of the chart, from 1, in which plain columns part a line of the pattern, or in which a run of colour "
     "goes with the columns left out."},
    {"passes", AT(fit_remedy, passes), OR_NULL,
     "Whether the band then passes what it must, by the model of stretch. null: nothing is asked. Of a redraw by "
     "the shares of the chart as it is.", IF(fit_remedy, must)},
    {"pulls_to_inches", AT(fit_remedy, pulls_to_in), OR_NULL,
     "How far it then pulls, inches. null: as passes.", IF(fit_remedy, must)},
    {"choice", AT(fit_remedy, choice), ANY, "What remedy = says in the project file to pick it."},
    {"brief", AT(fit_remedy, brief), ANY, "What comes of it, in a line."},
    {"line", AT(fit_remedy, line), ANY, "What to do, in a knitter's words."},
    {0}}};

static void write_target(struct json *json, const char *key, const struct json_at *at)
{
    json_number(json, key, rational_double(((const struct plan_band *)at->object)->target_sts));
}

static const struct json_table fit = {ON_LINES, ROWS{
    {"target_stitches", BY(JSON_DOUBLE, write_target), FROM_0 | OR_NULL,
     "Exact stitches for the measure with its ease, a fraction as a rule. null: no measure stands for this band.",
     IF(plan_band, has_target)},
    {"measure_inches", AT(plan_band, measure_in), FROM_0 | OR_NULL,
     "The measure, inches, without ease. null: none.", IF(plan_band, has_target)},
    {"wanted_inches", AT(plan_band, wanted_in), FROM_0 | OR_NULL,
     "The finished width wanted, ease included, inches. null: no measure.", IF(plan_band, has_target)},
    {"finished_inches", AT(plan_band, finished_in), FROM_0, "The width the stitches give at the gauge, inches."},
    {"sewn_inches", AT(plan_band, sewn_in), OVER_0 | OR_NULL,
     "Width of flat work once the seam has taken up the edge stitches, inches. null: no seam, no selvedge, or no "
     "such part."},
    {"ease_part", AT(plan_band, ease_ratio), OR_NULL,
     "Ease that comes out, as a part of the measure; minus: snug. null: no measure.", IF(plan_band, has_target)},
    {"within_gauge", AT(plan_band, within_gauge), ANY,
     "Whether the measure lies within what her own counts leave open, of the width sewn up where there is one: "
     "then nothing need be done."},
    {"picked", THROUGH(plan_band, remedy, fit_remedy, choice), OR_NULL,
     "The way round the project picks, and all of the plan follows. null: none."},
    {"remedies", LIST(plan_band, remedies, nremedies, remedy), ANY,
     "Every way round a repeat that does not meet the measure, best first. Empty where it does, or there is no "
     "measure.", .each = "One way round it."},
    {0}}};

/* --- colours -------------------------------------------------------------------------------- */

static void write_index(struct json *json, const char *key, const struct json_at *at)
{
    json_whole(json, key, at->index);
}

static int histogram_length(const struct json_at *at)
{
    const struct plan_colour *colour = at->object;

    return colour->histogram ? colour->histogram_limit + 1 : 0;
}

static bool occurs(const struct json_at *at)
{
    return at->index > 0 && *(const int64_t *)at->object > 0;
}

static const struct json_table floats_of_a_length = {ON_A_LINE, ROWS{
    {"stitches", BY(JSON_INT, write_index), FROM_1, "Length of the float, stitches."},
    {"floats", ITSELF(JSON_INT64), FROM_1, "How many, one repeat."},
    {0}}};

static const struct json_table colour_in_piece = {ON_A_LINE, ROWS{
    {"stitches", AT(plan_colour, piece_stitches), FROM_0, "Stitches, one piece."},
    {"float_stitches", AT(plan_colour, piece_float_stitches), FROM_0, "Float stitches, one piece."},
    {"longest_stitches", AT(plan_colour, piece_longest_sts), FROM_0, "Longest float as worked, stitches."},
    {"catches", AT(plan_colour, piece_catches), FROM_0, "Catches, one piece."},
    {"spares", AT(plan_colour, piece_spares), FROM_0, "Catches over the fewest, one piece."},
    {0}}};

static const struct json_table colour = {ON_LINES, ROWS{
    {"yarn", YARN(plan_colour, yarn), ANY, "The yarn, by the name of its section."},
    {"stitches", AT(plan_colour, tally.stitches), FROM_0, "Stitches in this yarn, one repeat."},
    {"float_stitches", AT(plan_colour, tally.float_stitches), FROM_0,
     "Stitches its strand passes behind, one repeat."},
    {"floats", AT(plan_colour, tally.floats), FROM_0, "Floats, a count, one repeat."},
    {"longest_stitches", AT(plan_colour, tally.longest_sts), FROM_0,
     "Longest float, stitches passed behind, one repeat; 0: none."},
    {"longest_inches", AT(plan_colour, longest_in), FROM_0, "The same, inches, at the gauge."},
    {"longest_row", NUMBERED(plan_colour, tally.longest_row), FROM_1 | OR_NULL,
     "Chart row of the first longest float, from 1 at the cast-on edge. null: no float."},
    {"start_longest_stitches", AT(plan_colour, tally.start_longest_sts), FROM_0,
     "In the round: longest strand over the start of a round, from its last stitch in a row to its first in the "
     "next, stitches; 0: none. Not among the floats."},
    {"over_limit", AT(plan_colour, tally.over_limit), FROM_0,
     "Floats longer than leave_stitches, a count, one repeat."},
    {"catches_fewest", AT(plan_colour, tally.catches_fewest), FROM_0,
     "Fewest catches that leave no piece over leave_stitches, one repeat."},
    {"catches", AT(plan_colour, catches), FROM_0, "Catches as placed, one repeat."},
    {"spares", AT(plan_colour, spares), FROM_0, "How many of those are over the fewest, one repeat."},
    {"piece", SAME(colour_in_piece), ANY,
     "The same for one piece, as worked (flat: with its edges), all times upwards."},
    {"histogram_top_stitches", AT(plan_colour, histogram_limit), FROM_0,
     "Length, in stitches, of the last class of the histogram: floats that long or longer stand together there."},
    {"histogram", {JSON_LIST, offsetof(struct plan_colour, histogram), .pointed = true,
      .size = sizeof(int64_t), .table = &floats_of_a_length, .count = histogram_length, .only = occurs}, ANY,
     "How many floats of each length, one repeat; lengths that do not occur are left out."},
    {0}}};

/* --- the band ------------------------------------------------------------------------------- */

static const char *const placement_words[] = {"quick", "best"};

const struct json_table band_table = {ON_LINES, ROWS{
    {"name", AT(plan_band, name), ANY, "The band, by the name of its section."},
    {"chart", AT(plan_band, chart_name), ANY, "Its chart or charts, as written in the project."},
    {"repeat_stitches", AT(plan_band, repeat_sts), FROM_1,
     "Chart columns of one repeat; side stitches left out."},
    {"begins_with", NUMBERED(plan_band, begin), FROM_1,
     "Stitch of the chart as drawn that is worked first, a count from 1: column 1 of all here."},
    {"rows", AT(plan_band, rows), FROM_1, "Rows of the chart."},
    {"upwards", AT(plan_band, upwards), FROM_1, "Times the chart is worked one above the other."},
    {"repeats", AT(plan_band, repeats), FROM_1, "Repeats across, a count."},
    {"repeats_given", AT(plan_band, repeats_given), ANY,
     "true: the project names the number of repeats; false: fitted to the measure."},
    {"stitches", AT(plan_band, stitches), FROM_1, "repeats x repeat_stitches."},
    {"side_stitches", AT(plan_band, side_sts), FROM_0, "Side stitches of flat work, left and right together."},
    {"stitches_on_needle", AT(plan_band, stitches_on_needle), FROM_1,
     "All stitches on the needle: with side stitches, selvedge and steek."},
    {"leave_stitches", AT(plan_band, leave_sts), FROM_1, "Longest run of stitches left loose."},
    {"height_inches", AT(plan_band, height_in), FROM_0, "Height of the band, all times upwards, inches."},
    {"first_row", AT(plan_band, first_round), FROM_0, "Number of its first row or round in the piece, from 1."},
    {"rows_of_three_colours", AT(plan_band, rows_three_colours), FROM_0, "Chart rows with three yarns or more."},
    {"fit", SAME(fit), ANY, "How the repeats meet the measure."},
    {"colours", LIST(plan_band, colours, ncolours, colour), ANY,
     "Each knitted yarn in the band; a yarn sewn on counts as the one under it. Figures of one repeat as a "
     "closed ring.", .each = "One yarn."},
    {"longest_stitches", AT(plan_band, longest_sts), FROM_0,
     "Longest float of all colours, stitches, one repeat."},
    {"longest_inches", AT(plan_band, longest_in), FROM_0, "The same, inches, at the gauge."},
    {"over_limit", AT(plan_band, over_limit), FROM_0,
     "Floats longer than leave_stitches, all colours, one repeat."},
    {"catches_fewest_repeat", AT(plan_band, catches_fewest_repeat), FROM_0,
     "Fewest catches, all colours, one repeat."},
    {"catches_repeat", AT(plan_band, catches_repeat), FROM_0, "Catches as placed, all colours, one repeat."},
    {"catches_piece", AT(plan_band, catches_piece), FROM_0, "Catches as placed, one piece, all times upwards."},
    {"catches_busiest_row", AT(plan_band, busiest_catches), FROM_0,
     "Catches in the round or row that has the most, as worked."},
    {"stacked", THROUGH(plan_band, catches, catch_map, stacked), FROM_0,
     "Pairs of catches in the same column of two neighbouring rows, one repeat."},
    {"doubled", THROUGH(plan_band, catches, catch_map, doubled), FROM_0,
     "Pairs of catches of two strands behind one stitch, one repeat."},
    {"touching", THROUGH(plan_band, catches, catch_map, touching), FROM_0,
     "Pairs of catches in neighbouring rows whose columns differ by exactly one, one repeat."},
    {"no_room", AT(plan_band, ntight), FROM_0,
     "Catches with no room to stagger: how many places no_room_at lists."},
    {"no_room_at", LIST(plan_band, tight, ntight, tight), ANY,
     "Catches that stand on one of the row below, or behind a stitch with another: no room to stagger there. Of "
     "one repeat, or of whole rows once upwards where they have two ends."},
    {"spares", SAME(spares), OR_NULL,
     "What the spare catches bought: the same placed with every float at its fewest. Of one repeat, or of whole "
     "rows once upwards where they have two ends. null: there are none.", IF(plan_band, spares.catches)},
    {"crowding", OBJECT(plan_band, dents, crowding), OR_NULL,
     "Where most catches fall within so many inches all round one stitch, over the whole band: by both gauges, "
     "over the join of the repeat and, worked more than once upwards, into the one above and below. null: no "
     "catches.", IF(plan_band, dents.most)},
    {"placement", WORD(plan_band, placed_best, placement_words), ANY,
     "How the catches were placed: best (all at once) or quick (row by row)."},
    {"proven", AT(plan_band, proof.proven), ANY,
     "Whether it is proven that no placing has fewer stacks (stacked and doubled), with so many fewer catches, "
     "with so many fewer pairs nearer than stagger, with so many more even pieces: of one repeat as a closed "
     "ring. Beside the edges of rows with two ends catches are placed row by row. Never so with quick, nor for a "
     "repeat worked once across between two ends."},
    {"at_least", SAME(at_least), OR_NULL,
     "What no placing of one repeat can better, term by term, each given the one before; equal to what is placed "
     "where proven. null: placed quick.", IF(plan_band, placed_best)},
    {"placed", SAME(placed), OR_NULL,
     "The same terms of the repeat as it is placed, to set beside at_least. null: placed quick.",
     IF(plan_band, placed_best)},
    {"cliffs", SAME(cliffs), ANY, "The nearest gauges at which the number of catches changes."},
    {"catches", {JSON_LIST, .table = &catch_mark, .write = write_catches}, ANY,
     "Every catch of one repeat, as placed, by row, then column.", .each = "One catch."},
    {"edge_catches", {JSON_LIST, .table = &edge_mark, .write = write_edge_catches}, ANY,
     "Flat work, and across a steek: the catches of floats that reach a side, an edge or the steek, by row, then "
     "stitch.", .each = "One catch."},
    {"centre", POINTER(plan_band, centre, centre_table), OR_NULL,
     "Mirror lines of the repeat, where to start the round and to divide it. null: not in the round, or too "
     "large a chart to be looked through."},
    {"steek_edges", POINTER(plan_band, fronts, steek_edges_table), OR_NULL,
     "Whether the two edges at the steek mirror each other. null: no steek, a chart with empty squares, or too "
     "large a one to look through."},
    {"stretch", POINTER(plan_band, stretch, stretch_table), OR_NULL,
     "Will it go over heel, head or hand. null: nothing is given that it must pass, or by the pull its floats "
     "would be shorter than what they pass."},
    {"stitch_changes", OBJECT(plan_band, recolours, stitch_changes), OR_NULL,
     "Stitches to make in the floating yarn so that fewer floats need catching. null: the band is too large to "
     "be searched; where no change was found to save a catch, or none is needed, `one` is empty.",
     WHEN(was_searched)},
    {0}}};

const struct json_table band_short_table = {ON_A_LINE, ROWS{
    {"name", AT(plan_band, name), ANY, "The band."},
    {"repeats", AT(plan_band, repeats), FROM_1, "Repeats across, a count."},
    {"repeat_stitches", AT(plan_band, repeat_sts), FROM_1,
     "Stitches of one repeat, as the remedy picked has it here."},
    {"picked", THROUGH(plan_band, remedy, fit_remedy, choice), OR_NULL,
     "The remedy picked and followed here, as it is written. null: none."},
    {"stitches", AT(plan_band, stitches), FROM_1, "repeats x repeat_stitches."},
    {"stitches_on_needle", AT(plan_band, stitches_on_needle), FROM_1, "All stitches on the needle."},
    {"leave_stitches", AT(plan_band, leave_sts), FROM_0, "Longest run left loose, stitches."},
    {"finished_inches", AT(plan_band, finished_in), FROM_0, "Width of the band, inches."},
    {"ease_part", AT(plan_band, ease_ratio), OR_NULL,
     "Ease it gives, as a part of the measure. null: no measure.", IF(plan_band, has_target)},
    {"off_part", AT(plan_band, off_part), OR_NULL,
     "finished_inches over what is wanted, less 1. null: no measure.", IF(plan_band, has_target)},
    {"passes", THROUGH(plan_band, stretch, plan_stretch, passes), OR_NULL,
     "Whether it passes what it must. null: nothing to pass."},
    {"height_inches", AT(plan_band, height_in), FROM_0, "Height of the band, inches."},
    {"longest_stitches", AT(plan_band, longest_sts), FROM_0, "Longest float, stitches, one repeat."},
    {"longest_inches", AT(plan_band, longest_in), FROM_0, "The same, inches."},
    {"over_limit", AT(plan_band, over_limit), FROM_0, "Floats longer than leave_stitches, one repeat."},
    {"catches_repeat", AT(plan_band, catches_repeat), FROM_0, "Catches as placed, one repeat."},
    {"catches_piece", AT(plan_band, catches_piece), FROM_0, "Catches as placed, one piece."},
    {0}}};
