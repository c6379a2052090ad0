/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The plan as JSON, and the schema of it: the whole, the piece, and the piece at other gauges and in other sizes.
 */
#include "tables.h"
#include "render/render.h"

/* Raised when a name changes its meaning or goes; a new name does not raise it. The schema says it as well. */
enum { JSON_FORMAT = 1 };

static void write_format(struct json *json, const char *key, const struct json_at *at)
{
    (void)at;
    json_whole(json, key, JSON_FORMAT);
}

static const struct json_table totals = {ON_LINES, ROWS{
    {"height_wanted_inches", AT(plan, height_wanted_in), OVER_0 | OR_NULL,
     "Height asked for, inches. null: none."},
    {"bands_height_inches", AT(plan, piece.bands_height_in), FROM_0, "Height of all bands together, inches."},
    {"finished_low_inches", AT(plan, piece.finished_low_in), FROM_0 | OR_NULL,
     "Least likely width of the first band, inches, by the 95 % interval of the gauge. null: gauge from one "
     "place."},
    {"finished_high_inches", AT(plan, piece.finished_high_in), FROM_0 | OR_NULL,
     "Greatest likely width, likewise, inches."},
    {"catches_fewest", AT(plan, piece.catches_fewest), FROM_0, "Fewest catches, one piece."},
    {"catches", AT(plan, piece.catches), FROM_0, "Catches as placed, one piece."},
    {"longest_stitches", AT(plan, piece.longest_sts), FROM_0, "Longest float of all bands, stitches."},
    {"longest_inches", AT(plan, piece.longest_in), FROM_0, "The same, inches."},
    {"over_limit", AT(plan, piece.over_limit), FROM_0, "Floats over the limit, one piece."},
    {"too_long", AT(plan, piece.too_long), ANY, "Whether any float is longer than the limit."},
    {0}}};

/* --- other gauges, other sizes ------------------------------------------------------------------ */

static void write_repeats(struct json *json, const char *key, const struct json_at *at)
{
    const struct plan_try *one = at->object;
    const struct plan_piece *piece = &one->piece;

    json_whole_or_null(json, key, one->fits && piece->nbands ? piece->bands[0].repeats : 0,
                       one->fits && piece->nbands > 0);
}

static bool does_not_fit(const struct json_at *at)
{
    return !((const struct plan_try *)at->object)->fits;
}

/* A gauge at which the chart is wider than the piece has a name and a reason, no figures. */
static int bands_of_try(const struct json_at *at)
{
    const struct plan_try *one = at->object;

    return one->fits ? one->piece.nbands : 0;
}

static int yarns_of_try(const struct json_at *at)
{
    const struct plan_try *one = at->object;

    return one->fits ? one->piece.nyarns : 0;
}

static const struct json_table try_table = {ON_LINES, ROWS{
    {"name", AT(plan_try, name), ANY, "The try, by the name of its section."},
    {"fits", AT(plan_try, fits), ANY,
     "false: the chart is wider than the piece at this gauge; its figures are null."},
    {"why_not", AT(plan_try, why), OR_NULL, "Why it does not fit. null: it fits.", WHEN(does_not_fit)},
    {"stitches_per_inch", AT(plan_try, piece.gauge.per_in), OVER_0 | OR_NULL, "Stitches per inch of this gauge."},
    {"rows_per_inch", AT(plan_try, piece.gauge.rows_per_in), OVER_0 | OR_NULL, "Rows per inch of this gauge."},
    {"repeats", BY(JSON_INT, write_repeats), FROM_1 | OR_NULL,
     "Repeats of the first band, a count. null: does not fit, or no band."},
    {"longest_stitches", AT(plan_try, piece.longest_sts), FROM_0 | OR_NULL,
     "Longest float of all bands, stitches.", IF(plan_try, fits)},
    {"longest_inches", AT(plan_try, piece.longest_in), FROM_0 | OR_NULL,
     "Longest float of all bands, inches at this gauge.", IF(plan_try, fits)},
    {"over_limit", AT(plan_try, piece.over_limit), FROM_0 | OR_NULL,
     "Floats over the limit, one piece.", IF(plan_try, fits)},
    {"catches", AT(plan_try, piece.catches), FROM_0 | OR_NULL,
     "Catches as placed, one piece.", IF(plan_try, fits)},
    {"catches_fewest", AT(plan_try, piece.catches_fewest), FROM_0 | OR_NULL,
     "Fewest catches, one piece.", IF(plan_try, fits)},
    {"too_long", AT(plan_try, piece.too_long), OR_NULL,
     "Whether any float is longer than the limit.", IF(plan_try, fits)},
    {"cast_on_stitches", AT(plan_try, piece.cast_on.stitches), FROM_0 | OR_NULL,
     "Stitches on the needle after casting on.", IF(plan_try, fits)},
    {"bands", LIST_BY(plan_try, piece.bands, bands_of_try, band_short_table), ANY,
     "Each band at this gauge; empty where it does not fit.", .each = "One band."},
    {"yarn", LIST_BY(plan_try, piece.yarns, yarns_of_try, yarn_short_table), ANY,
     "Each yarn at this gauge; empty where it does not fit.", .each = "One yarn."},
    {0}}, "try"};

static void write_same_as(struct json *json, const char *key, const struct json_at *at)
{
    const struct plan_size *size = at->object;

    json_string(json, key, size->same_as >= 0 ? json->plan->sizes[size->same_as].at.name : NULL);
}

static const struct json_table size = {ON_LINES, ROWS{
    {"measure_inches", AT(plan_size, measure_in), OVER_0, "Its around or width, before ease."},
    {"own", AT(plan_size, own), ANY, "Whether that is the measure of this plan."},
    {"same_as", BY(JSON_STRING, write_same_as), OR_NULL,
     "An earlier size that comes out on the same stitches, by its name. null: none."},
    {"at", OBJECT(plan_size, at, try_table), ANY, "The piece in that size; its name is the size's."},
    {0}}};

static const struct json_table ladder_step = {ON_A_LINE, ROWS{
    {"band", BAND(plan_ladder_step, band), ANY, "The band."},
    {"to_stitches_per_inch", AT(plan_ladder_step, to_per_in), ANY, "Finer end."},
    {"from_stitches_per_inch", AT(plan_ladder_step, from_per_in), ANY, "Heavier end."},
    {"catches_fewest", AT(plan_ladder_step, catches), FROM_0,
     "Catches of one repeat, or of whole rows where they have two ends."},
    {"own", AT(plan_ladder_step, own), ANY, "Whether the gauge of the swatch lies in it."},
    {0}}};

static const struct json_table rung = {ON_LINES, ROWS{
    {"own", AT(plan_rung, own), ANY, "Whether it is that of the swatch."},
    {"at", OBJECT(plan_rung, at, try_table), ANY,
     "The piece there, with the fewest catches; its name is the yarn weight it is usual for. Balls weigh the "
     "same as the project's, their length reckoned for yarn of that thickness."},
    {0}}};

static const struct json_table ladder = {ON_LINES, ROWS{
    {"by_yarn_weight", AT(plan_ladder, by_weight), ANY,
     "Whether the gauges are the middles of the yarn weights; else those of the project."},
    {"own_gauge_known", AT(plan_ladder, own_known), ANY,
     "false: the project has no swatch, and every other figure of this plan is for the middle of a yarn weight."},
    {"counts_left_out", AT(plan_ladder, counts_left_out), ANY,
     "Whether counts of stitches and balls were left out for want of a gauge."},
    {"first_longer", AT(plan_ladder, first_longer), FROM_0 | OR_NULL,
     "Index from 0 of the first rung heavier than hers at which floats become too long, or longer where they are "
     "so already. null: none."},
    {"rungs", LIST(plan_ladder, rungs, nrungs, rung), ANY, "Every gauge, fine to heavy.", .each = "One gauge."},
    {"steps", LIST(plan_ladder, steps, nsteps, ladder_step), ANY,
     "By band, fine to heavy: the gauges between which the floats take so many catches.", .each = "One step."},
    {0}}};

/* --- what it stands on ----------------------------------------------------------------------- */

static void write_code(struct json *json, const char *key, const struct json_at *at)
{
    json_string(json, key, diag_code_text(((const struct diag *)at->object)->code));
}

static const char *const severity_words[] = {
    [DIAG_NOTE] = "note", [DIAG_CAUTION] = "caution", [DIAG_ERROR] = "fault"};

static void write_severity(struct json *json, const char *key, const struct json_at *at)
{
    json_string(json, key, severity_words[diag_code_severity(((const struct diag *)at->object)->code)]);
}

static void write_file(struct json *json, const char *key, const struct json_at *at)
{
    const struct source *source = ((const struct diag *)at->object)->at.source;

    json_string(json, key, source ? source->name : NULL);
}

static const struct json_table note = {ON_LINES, ROWS{
    {"code", BY(JSON_STRING, write_code), ANY,
     "The code of the message; docs/diagnostics.md has an entry for each.",
     .more = "\"pattern\": \"^[a-z][a-z-]*$\""},
    {"severity", WORD_BY(write_severity, severity_words), ANY, "How grave."},
    {"text", AT(diag, what), ANY, "What was seen."},
    {"todo", AT(diag, todo), OR_NULL, "What to change, or what was done instead. null: nothing."},
    {"file", BY(JSON_STRING, write_file), OR_NULL, "The file it is about. null: none."},
    {"line", AT(diag, at.line), FROM_1 | OR_NULL, "Line in that file, from 1. null: the file as a whole."},
    {"column", AT(diag, at.column), FROM_1 | OR_NULL,
     "Character on that line, from 1. null: the line as a whole.", IF(diag, at.line)},
    {0}}};

static const char *const standing_words[] = {
    "exact", "standard", "measured", "common practice", "judgement", "memory"};

static const struct json_table allowance = {ON_LINES, ROWS{
    {"key", AT(allowance, key), ANY, "The row's key in the table."},
    {"value", AT(allowance, value), ANY, "Its value, in `unit`."},
    {"low", AT(allowance, low), OR_NULL, "Least value in use, in `unit`. null: no range."},
    {"high", AT(allowance, high), OR_NULL, "Greatest value in use, in `unit`. null: no range."},
    {"unit", AT(allowance, unit), ANY, "Unit of value, low and high."},
    {"standing", ONE_OF(allowance, standing, standing_words), ANY, "How well it is known."},
    {"source", AT(allowance, source), ANY, "Number of the source in the table's head, or none."},
    {"what", AT(allowance, what), ANY, "What it is, in words."},
    {0}}};

/* --- the whole --------------------------------------------------------------------------------- */

static const char *const unit_words[] = {"in", "cm"};

static bool is_ripped(const struct json_at *at)
{
    return ((const struct plan_yarn *)at->object)->swatch_balls > 0;
}

static bool may_be_odd(const struct json_at *at)
{
    return ((const struct plan_yarn *)at->object)->hide_bands != 0;
}

static const struct json_table plan_table = {ON_LINES, ROWS{
    {"format", BY(JSON_INT, write_format), ANY,
     "Number of this layout: raised when a name changes its meaning or goes.", .more = "\"const\": 1"},
    {"title", AT(plan, title), ANY, "Title of the project; empty: none."},
    {"project", AT(plan, project_name), ANY, "The project file, as it was named."},
    {"make", AT(plan, make), FROM_1,
     "Pieces to make. Yarn figures are for all of them, every other figure for one."},
    {"worked", WORD(plan, round, worked_words), ANY, "How the piece is worked."},
    {"units", WORD(plan, cm_first, unit_words), ANY,
     "Unit the knitter writes lengths in; lengths here do not depend on it."},
    {"child", AT(plan, child), ANY, "Whether it is for a child."},
    {"child_limit_longer", AT(plan, child_limit_longer), ANY,
     "Whether a longer float limit was asked for in a child's thing than is safe for small fingers."},
    {"gauge", OBJECT(plan, piece.gauge, gauge_table), ANY, "Gauge of the stranded fabric."},
    {"plain_gauge", OBJECT(plan, piece.plain_gauge, gauge_table), ANY, "Gauge of the plain fabric."},
    {"yarn_in_a_stitch", OBJECT(plan, piece.loop, loop_table), ANY,
     "Yarn in one stitch, and how far to trust it."},
    {"float_limit", SAME(float_limit_table), ANY, "Which floats are left loose, and how the others are caught."},
    {"cast_on", SAME(cast_on_table), ANY, "The cast-on."},
    {"bind_off", SAME(bind_off_table), ANY, "The bind-off."},
    {"steps", LIST(plan, piece.steps, piece.nsteps, step_table), ANY,
     "What is done, in order, from cast-on to bind-off.", .each = "One step."},
    {"bands", LIST(plan, piece.bands, piece.nbands, band_table), ANY,
     "The bands, in knitting order.", .each = "One band."},
    {"borders", LIST(plan, piece.borders, piece.nborders, border_table), ANY,
     "Where a plain part meets a band. Empty without a plain gauge.", .each = "One place."},
    {"together", POINTER(plan, piece.together, together_table), OR_NULL,
     "Counts of all bands solved together. null: one band, or nothing to solve."},
    {"yarn", LIST(plan, piece.yarns, piece.nyarns, yarn_table), ANY,
     "The yarns, in the order of their sections. Figures for all pieces.", .each = "One yarn."},
    {"stitches_an_hour", AT(plan, pace_sts_per_hour), OVER_0,
     "Pace the hours are reckoned at: stitches of a two-colour row."},
    {"duplicate", LIST(plan, duplicates, nduplicates, duplicate_table), ANY,
     "Colours of a band that could be stranded or sewn on afterwards, in the rows where that is a choice: as the "
     "third colour of the row, sparse, or sewn on now.", .each = "One colour of one band."},
    {"duplicate_yarns", LIST(plan, duplicate_yarns, nduplicate_yarns, duplicate_table), ANY,
     "The same over the whole piece: each colour in all its bands at once. Waits and tails are other than band "
     "by band together.", .each = "One colour; band null, no rows."},
    {"exchanged", OBJECT(plan, exchanged, exchanged_table), OR_NULL,
     "Ground and pattern exchanged: the two yarns of most stitches of each band in each other's place, its "
     "others where they are; cast-on, rib, plain parts, bind-off and seam keep their yarn. null: no band of two "
     "yarns or more.", IF(plan, exchanged.nbands)},
    {"swatches", LIST_HERE(plan, swatches, nswatches, swatch_table), ANY,
     "Her swatches, as their yarn is reckoned.", .each = "One swatch.", .more = "\"maxItems\": 2"},
    {"swatch_ripped", LIST_ONLY(plan, piece.yarns, piece.nyarns, swatch_ripped_table, is_ripped), ANY,
     "Where swatches are counted (swatch = keep): yarns of which fewer balls would do, were they ripped and "
     "knitted up, by the margin.", .each = "One yarn."},
    {"changes", LIST(plan, changes, nchanges, change_table), ANY,
     "What would put a close call right, each alone: a ball less where the last is hardly touched, room to spare "
     "in it where it is nearly used up.", .each = "One change."},
    {"odd_balls", LIST_ONLY(plan, piece.yarns, piece.nyarns, odd_ball_table, may_be_odd), ANY,
     "Yarns of more than one ball, what is in hand counted, of which a ball of another dye lot hardly shows "
     "somewhere: in bands at least half in other yarns, not beside the rest of its own, that take no more than a "
     "ball.", .each = "One yarn."},
    {"weigh_in", LIST(plan, weighings, nweighings, weighing_table), ANY,
     "What should be left of each yarn at each weighing: at the start, after each step of the first piece (bands "
     "of 2 to 24 times upwards: after each time), after each further piece (of more than 12: the last).",
     .each = "One weighing."},
    {"weigh_by", LIST(plan, weigh_by, nweigh_by, weigh_by_table), ANY,
     "For each yarn with a ball the last place at which a tenth of it is still to be knitted, and what must be "
     "left there. Yarns of which that is under a gram are left out.", .each = "One yarn."},
    {"weighed", POINTER(plan, weighed, weighed_table), OR_ABSENT,
     "What the scale said on the way, and what that moves. Only where the project has weighings."},
    {"piece", SAME(totals), ANY, "One piece as a whole."},
    {"tries", LIST(plan, tries, ntries, try_table), ANY, "The same piece at other gauges.", .each = "One gauge."},
    {"sizes", LIST(plan, sizes, nsizes, size), ANY,
     "The same piece graded to other finished measures, at the same gauge, as listed.", .each = "One size."},
    {"ladder", POINTER(plan, ladder, ladder), OR_NULL,
     "The same chart and measure at one gauge after another, fine to heavy. null: not asked for."},
    {"notes", LIST(plan, notes, nnotes, note), ANY,
     "Cautions and notes given on the way.", .each = "One message."},
    {"basis", {JSON_LIST, offsetof(struct plan, basis), .pointed = true, .size = sizeof(void *),
      .of_pointers = true, .count_offset = offsetof(struct plan, nbasis), .table = &allowance}, ANY,
     "Rows of the table of allowances the numbers stand on.", .each = "One row."},
    {0}}};

void render_json(const struct plan *plan, struct text *out)
{
    struct json json = json_begin(out, plan);
    struct json_at at = {plan, 0, NULL};

    json_write_table(&json, NULL, &plan_table, &at);
    json_end(&json);
}

void render_json_schema(struct text *out)
{
    json_write_schema(out, &plan_table, "Strandwise plan",
                      "Everything a plan says. Lengths are inches where the name says inches, else "
                      "metric, with the unit in the name; *_part is a part of one (0.1 is 10 %). Rows "
                      "count from 1 at the cast-on edge, columns from 1 at the right. Numbers come "
                      "from the exact values, with at most 9 significant digits. A plain number of "
                      "stitches, rows or pieces is a count.");
}
