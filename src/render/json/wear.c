/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * How the piece will wear: centre, start and needles, the two edges at a steek, what each band pulls to, where plain
 * meets stranded. And counts solved together.
 */
#include "tables.h"

/* --- centre, start, needles --------------------------------------------------------------- */

static const char *const line_words[] = {
    [LINE_NEITHER] = "neither", [LINE_MOTIF] = "motif", [LINE_GAP] = "gap", [LINE_ALIKE] = "alike"};

static const struct json_table start = {ON_A_LINE, ROWS{
    {"stitch", NUMBERED(plan_start, at.start), FROM_1,
     "Column of this plan that every round would begin with, from 1."},
    {"begin_with", AT(plan_start, stitch), FROM_1 | OR_NULL,
     "What to write for it in the project, `begin with`: the stitch of the chart as drawn. null: the way round "
     "picked works the chart otherwise than drawn."},
    {"jog_rows", AT(plan_start, at.jog_rows), FROM_0,
     "Rows of the chart whose end meets a stitch of the next row that the chart sets beside another yarn."},
    {"jog_rows_all", AT(plan_start, at.jog_rows_all), FROM_0,
     "The same all the times upwards; the last row of all has no next."},
    {"strand_stitches", AT(plan_start, at.strand_sts), FROM_0,
     "Longest strand over the start, from the last use in a row to the first in the next."},
    {"strand_yarn", YARN(plan_start, at.strand_yarn), OR_NULL, "Its yarn. null: there is none."},
    {"strand_row", NUMBERED(plan_start, at.strand_row), FROM_1 | OR_NULL,
     "The row of the chart it leaves. null: there is none."},
    {"over_limit", AT(plan_start, over_limit), ANY, "Whether it is too long to be left loose."},
    {"front", WORD(plan_start, front, line_words), ANY,
     "Centre front, opposite the start: the middle of a motif, that of a gap, one of two that are alike, or no "
     "mirror line at all."},
    {"back", WORD(plan_start, back, line_words), ANY, "On the start itself, at the centre back: likewise."},
    {0}}, "start"};

static void write_each(struct json *json, const char *key, const int *sts, int count)
{
    json_array_open(json, key);
    for (int i = 0; i < count; i++)
        json_whole(json, NULL, sts[i]);
    json_array_close(json);
}

static void write_needles(struct json *json, const char *key, const struct json_at *at)
{
    const struct plan_needles *way = at->object;

    write_each(json, key, way->sts, way->needles);
}

static void write_even_needles(struct json *json, const char *key, const struct json_at *at)
{
    const struct plan_needles *way = at->object;

    write_each(json, key, way->even_sts, way->uneven ? way->needles : 0);
}

static int needle_ways(const struct json_at *at)
{
    (void)at;
    return PLAN_NEEDLE_WAYS;
}

/* Half columns from 0 as columns from 1. */
static void write_column(struct json *json, const char *key, int half)
{
    if (half >= 0)
        json_number(json, key, half / 2.0 + 1.0);
    else
        json_null(json, key);
}

static void write_motif(struct json *json, const char *key, const struct json_at *at)
{
    write_column(json, key, ((const struct plan_centre *)at->object)->motif);
}

static void write_gap(struct json *json, const char *key, const struct json_at *at)
{
    write_column(json, key, ((const struct plan_centre *)at->object)->gap);
}

static const struct json_table needles = {ON_A_LINE, ROWS{
    {"stitches", VALUES(JSON_INT, write_needles), FROM_1,
     "On each needle, from the start on.", .each = "One needle."},
    {"rows_crossed", AT(plan_needles, crosses.rows), FROM_0,
     "Rows of the chart in which a float passes behind both sides of a join, summed over the joins; the start is "
     "left out."},
    {"longest_stitches", AT(plan_needles, crosses.longest_sts), FROM_0, "The longest such float."},
    {"even", VALUES(JSON_INT, write_even_needles), FROM_1,
     "Where a needle has over two stitches more or less than its share: a division within two of it. Else empty.",
     .each = "One needle."},
    {"even_rows_crossed", AT(plan_needles, even_crosses.rows), FROM_0 | OR_NULL,
     "rows_crossed of that. null: the division is even.", IF(plan_needles, uneven)},
    {0}}};

const struct json_table centre_table = {ON_LINES, ROWS{
    {"motif_column", BY(JSON_DOUBLE, write_motif), OR_NULL,
     "Column of the chart in the middle of the motif, a half between two. null: the repeat is not its own mirror "
     "image."},
    {"gap_column", BY(JSON_DOUBLE, write_gap), OR_NULL, "The other mirror line, half a repeat away."},
    {"now", OBJECT(plan_centre, now, start), ANY, "The start as planned."},
    {"motif_at_front", NUMBERED(plan_centre, front_start), FROM_1 | OR_NULL,
     "Column of this plan every round begins with to have the motif on the centre front. null: no start brings "
     "it there."},
    {"half_a_stitch_off", AT(plan_centre, front_half_off), ANY,
     "Whether that brings it there only to within half a stitch."},
    {"starts", LIST_HERE(plan_centre, best, nbest, start), ANY,
     "The best places for the start, the best first.", .each = "One place."},
    {"needles", {JSON_LIST, offsetof(struct plan_centre, needles), .size = sizeof(struct plan_needles),
      .table = &needles, .count = needle_ways}, ANY,
     "The round divided so that the fewest floats cross from needle to needle.",
     .each = "Two halves, three needles or four."},
    {0}}, "centre",
    "The round starts at the centre back, where it is least seen."};

static void write_mirror(struct json *json, const char *key, const struct json_at *at)
{
    const struct plan_fronts *fronts = at->object;

    json_bool(json, key, fronts->known && fronts->more_sts == 0);
}

const struct json_table steek_edges_table = {ON_A_LINE, ROWS{
    {"chart_mirrors", AT(plan_fronts, known), ANY,
     "Whether the chart has a mirror line: without one they cannot."},
    {"mirror", BY(JSON_BOOL, write_mirror), ANY, "Whether they do."},
    {"more_stitches", AT(plan_fronts, more_sts), OR_NULL,
     "So many stitches of the chart more after the last repeat, and they do; below 0: fewer. null: the chart has "
     "no mirror line.", IF(plan_fronts, known)},
    {"begin_with_stitch", NUMBERED(plan_fronts, start), FROM_1 | OR_NULL,
     "Stitch of the chart with which whole repeats would begin, so that they do. null: there is none.",
     IF(plan_fronts, known)},
    {0}}};

/* --- what it pulls to ----------------------------------------------------------------------- */

static void write_number(struct json *json, const char *key, const struct json_at *at)
{
    json_whole(json, key, at->index + 1);
}

static int rows_of_band(const struct json_at *at)
{
    return ((const struct plan_band *)at->up->object)->rows;
}

static bool stops(const struct json_at *at)
{
    return !((const struct plan_stretch *)at->object)->passes;
}

static const struct json_table stretch_row = {ON_A_LINE, ROWS{
    {"row", BY(JSON_INT, write_number), FROM_1, "Row of the chart, from 1 at the bottom."},
    {"yarn", YARN(plan_stretch_row, yarn), OR_NULL, "The yarn that pulls least. null: the row is in one yarn."},
    {"stitches", AT(plan_stretch_row, own), FROM_0, "Its stitches in one repeat."},
    {"of", AT(plan_stretch_row, all), FROM_0, "All stitches of the row in one repeat."},
    {"ratio", AT(plan_stretch_row, ratio), ANY, "Width pulled for the width relaxed."},
    {"pulls_to_inches", AT(plan_stretch_row, pulls_to_in), ANY, "The whole row."},
    {"passes", AT(plan_stretch_row, passes), ANY, "Whether it passes."},
    {0}}};

static const struct json_table would_pass = {ON_LINES, ROWS{
    {"stitches_exact", AT(plan_stretch, need_sts), ANY, "So many stitches at this gauge."},
    {"repeats", AT(plan_stretch, need_repeats), FROM_1 | OR_NULL,
     "In whole repeats, rounded up. null: more than are planned."},
    {"finished_inches", AT(plan_stretch, need_in), OR_NULL,
     "Their width relaxed.", IF(plan_stretch, need_repeats)},
    {"float_ratio", AT(plan_stretch, loosen_float_ratio), OR_NULL,
     "What the floats of the tightest row would have to pull to. null: no looser float does.",
     IF(plan_stretch, loosen)},
    {"slack_ratio", AT(plan_stretch, loosen_slack_ratio), OR_NULL,
     "Their length relaxed for the width they pass.", IF(plan_stretch, loosen)},
    {"slack_in_loops", AT(plan_stretch, loosen_loops), ANY, "Whether they would then hang in loops."},
    {"sewn_stitches", AT(plan_stretch, sew_sts), OR_NULL,
     "Scarce stitches of the rows that stop it, in one piece, that sewn on afterwards would let it through. "
     "null: that does not do.", IF(plan_stretch, sew_rows)},
    {"stitches_per_inch", AT(plan_stretch, needle_per_in), ANY,
     "Gauge of the band at which the same stitches pass."},
    {"gauge_change_part", AT(plan_stretch, needle_part), ANY,
     "Change of the gauge that is: -0.05 is 5 % fewer stitches to the inch."},
    {"by_another_needle", AT(plan_stretch, needle_near), ANY, "Whether another needle may do that."},
    {0}}};

const struct json_table stretch_table = {ON_LINES, ROWS{
    {"must_pass_inches", AT(plan_stretch, must_in), OVER_0, "What it must go over."},
    {"stitch_ratio", AT(plan_stretch, stitch_ratio), ANY, "Width of stitches pulled for their width relaxed."},
    {"stitch_pulled", AT(plan_stretch, stitch_pulled), ANY,
     "Whether that is from a plain swatch that was pulled; else from the table."},
    {"float_ratio", AT(plan_stretch, float_ratio), ANY, "Length of a float pulled for the width it passes."},
    {"float_pulled", AT(plan_stretch, float_pulled), ANY,
     "Whether that is from a stranded swatch that was pulled; else from the slack."},
    {"pulls_to_inches", AT(plan_stretch, pulls_to_in), ANY, "The band in its tightest row."},
    {"spare_inches", AT(plan_stretch, spare_in), ANY, "Over what it must pass; below 0: short by so much."},
    {"passes", AT(plan_stretch, passes), ANY, "Whether every row passes."},
    {"close", AT(plan_stretch, close), ANY, "Whether it passes with next to nothing to spare."},
    {"tightest_row", NUMBERED(plan_stretch, tightest), FROM_1, "Row of the chart, from 1 at the bottom."},
    {"rows_stopping", AT(plan_stretch, stopping), FROM_0, "Rows of the chart that do not pass."},
    {"rows", LIST_BY(plan_stretch, rows, rows_of_band, stretch_row), ANY,
     "Every row of the chart, from the bottom.", .each = "One row."},
    {"would_pass", SAME(would_pass), OR_NULL, "What would let it through. null: it passes.", WHEN(stops)},
    {0}}, "stretch",
    "How far a band pulls, round by round: a model, which a pulled swatch beats."};

/* --- where plain meets stranded ------------------------------------------------------------- */

/* Something may be done about it. */
static bool is_open(const struct json_at *at)
{
    const struct plan_border *border = at->object;

    return !border->slight && !border->asked;
}

const struct json_table border_table = {ON_LINES, ROWS{
    {"plain", AT(plan_border, plain_name), ANY, "The plain part."},
    {"band", BAND(plan_border, band), ANY, "The band."},
    {"plain_below", AT(plan_border, plain_below), ANY, "Whether the plain part is worked before the band."},
    {"plain_stitches", AT(plan_border, plain_sts), ANY,
     "Stitches of the plain part as a measure counts them: flat with the selvedge, else without it and without a "
     "steek."},
    {"band_stitches", AT(plan_border, band_sts), ANY, "Those of the band."},
    {"plain_inches", AT(plan_border, plain_in), ANY, "Width of the plain part at the plain gauge."},
    {"band_inches", AT(plan_border, band_in), ANY, "Width of the band at the stranded gauge."},
    {"step_inches", AT(plan_border, step_in), ANY, "Plain less band; below 0: the band is the wider."},
    {"step_part", AT(plan_border, step_part), ANY, "That for the plain width."},
    {"drawn_in_inches", AT(plan_border, drawn_in), ANY,
     "The same on the plain part's count: what stranding draws in."},
    {"drawn_in_part", AT(plan_border, drawn_part), ANY, "That for the plain width."},
    {"slight", AT(plan_border, slight), ANY, "Whether it is too little for anything to be done."},
    {"asked_for", AT(plan_border, asked), ANY,
     "Whether the plain part has a measure of its own, so that the step is meant."},
    {"stitches_per_inch", AT(plan_border, needle_per_in), OR_NULL,
     "Gauge of the band without a step. null: it is slight or asked for.", WHEN(is_open)},
    {"gauge_change_part", AT(plan_border, needle_part), OR_NULL,
     "Change of the gauge that is. null: the same.", WHEN(is_open)},
    {"by_another_needle", AT(plan_border, needle_near), ANY, "Whether another needle may do that."},
    {"even_stitches_exact", AT(plan_border, even_sts), OR_NULL,
     "Stitches of the band without a step. null: it is slight or asked for.", WHEN(is_open)},
    {"fit_stitches", AT(plan_border, fit_sts), FROM_1 | OR_NULL,
     "The nearest to that in whole repeats. null: none nearer than now."},
    {"fit_step_inches", AT(plan_border, fit_step_in), OR_NULL, "The step then.", IF(plan_border, fit_sts)},
    {"fit_step_part", AT(plan_border, fit_step_part), OR_NULL,
     "That for the plain width.", IF(plan_border, fit_sts)},
    {"fit_line", AT(plan_border, fit_line), OR_NULL,
     "How to shape from the lower to the upper part then. null: no shaping."},
    {"fit_too_tight", AT(plan_border, fit_stopped), ANY,
     "Whether the band on fit_stitches would not pass what it must."},
    {"fit_sharers", AT(plan_border, fit_sharers), OR_NULL,
     "Rib and bands on the same count, into which fit_stitches goes too, in words. null: none."},
    {"plain_fit_stitches", AT(plan_border, plain_fit_sts), FROM_1 | OR_NULL,
     "Stitches of the plain part with which it is as wide as the band. null: those it has, or nothing to be "
     "done."},
    {"plain_fit_on_needle", AT(plan_border, plain_fit_on_needle), FROM_1 | OR_NULL,
     "Those with everything else on the needle: what is written as `stitches on needle`. null: as "
     "plain_fit_stitches.", IF(plan_border, plain_fit_sts)},
    {"plain_fit_line", AT(plan_border, plain_fit_line), OR_NULL,
     "Shaping between those and the band, in words. null: none."},
    {0}}};

/* --- counts solved together ----------------------------------------------------------------- */

static void write_within_reach(struct json *json, const char *key, const struct json_at *at)
{
    json_bool(json, key, !((const struct plan_stage *)at->object)->far);
}

static void write_counts(struct json *json, const char *key, const struct json_at *at)
{
    const struct plan_counts *set = at->object;
    const struct plan_together *together = at->up->object;

    json_array_open(json, key);
    for (int i = 0; i < together->nstages; i++)
        json_whole(json, NULL, set->counts[i]);
    json_array_close(json);
}

static const struct json_table stage = {ON_LINES, ROWS{
    {"names", AT(plan_stage, names), ANY, "What is in it, in words."},
    {"stands", AT(plan_stage, stands), ANY, "Whether its count is given."},
    {"within_reach", BY(JSON_BOOL, write_within_reach), ANY,
     "Whether it has a count within reach_part of its measure; false: the nearest each way were weighed."},
    {"none_near_passes", AT(plan_stage, stopped), ANY,
     "Whether counts within reach_part suit, and none of them passes what it must."},
    {"bands", BANDS(plan_stage, bands), ANY, "The bands in it whose count is solved.", .each = "Name of a band."},
    {0}}};

static const struct json_table set = {ON_LINES, ROWS{
    {"stitches", VALUES(JSON_INT64, write_counts), FROM_1,
     "The count of each stage, selvedge and steek left out.", .each = "A count of stitches."},
    {"shaping_rounds", AT(plan_counts, shaping_rounds), FROM_0,
     "Rounds or rows of shaping between the stages, a count."},
    {"shaped_stitches", AT(plan_counts, shaped_sts), FROM_0, "Stitches made or taken away between the stages."},
    {"off_inches", AT(plan_counts, off_in), FROM_0,
     "From the measures, all parts that have one together, inches."},
    {"planned", AT(plan_counts, planned), ANY, "Whether these are the counts of the plan."},
    {0}}};

const struct json_table together_table = {ON_LINES, ROWS{
    {"followed", AT(plan_together, followed), ANY, "Whether the plan takes the first set."},
    {"reach_part", AT(plan_together, reach), FROM_0,
     "Counts so far from a measure, as a part of it, were weighed."},
    {"stages", LIST(plan_together, stages, nstages, stage), ANY,
     "In the order of knitting.",
     .each = "A band, bands and a rib that share a count, or a part whose count stands."},
    {"sets", LIST(plan_together, sets, nsets, set), ANY,
     "The best sets of counts, best first, at most three.", .each = "One set."},
    {0}}};
