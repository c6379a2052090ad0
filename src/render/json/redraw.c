/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The redraw as JSON, and the schema of it.
 */
#include "render/draw/redraw.h"
#include "tables.h"

/* Raised when a name changes its meaning or goes; a new name does not raise it. The schema says it as well. */
enum { JSON_FORMAT = 1 };

static void write_format(struct json *json, const char *key, const struct json_at *at)
{
    (void)at;
    json_whole(json, key, JSON_FORMAT);
}

/* --- sizes ------------------------------------------------------------------------------------ */

static const struct json_table gauge = {ON_A_LINE, ROWS{
    {"stitches_per_inch", AT(redraw_gauge, per_in), OVER_0, "Stitches to the inch."},
    {"rows_per_inch", AT(redraw_gauge, rows_per_in), OVER_0, "Rows or rounds to the inch."},
    {0}}};

static const struct json_table nearer = {ON_A_LINE, ROWS{
    {"count", AT(redraw_line, nearer), FROM_1, "Stitches, or rows."},
    {"finished_inches", AT(redraw_line, nearer_in), OVER_0, "What they measure."},
    {"off_part", AT(redraw_line, nearer_off_part), ANY, "Against the old size."},
    {"moves_middle_only", AT(redraw_line, nearer_moves_middle), ANY,
     "All it loses is that a centre line on a stitch lies between two then, or the other way about."},
    {0}}};

static const struct json_table line = {ON_LINES, ROWS{
    {"was", AT(redraw_line, was), FROM_1, "In the old chart."},
    {"now", AT(redraw_line, now), FROM_1, "In the new chart.", .more = "\"maximum\": 400"},
    {"exact", AT(redraw_line, exact), OVER_0, "So many would have the old size exactly."},
    {"was_inches", AT(redraw_line, was_in), OVER_0, "Finished size of the old chart in this direction."},
    {"now_inches", AT(redraw_line, now_in), OVER_0, "Finished size of the new one."},
    {"off_part", AT(redraw_line, off_part), ANY, "now_inches / was_inches - 1: 0.02 is 2 % larger."},
    {"nearer", SAME(nearer), OR_NULL,
     "Over a tenth of the size goes to keep a symmetry or a centre line: the count nearest the exact one, "
     "without it; null: nothing does.", IF(redraw_line, nearer)},
    {0}}, "line"};

static const struct json_table all_upwards = {ON_A_LINE, ROWS{
    {"was_inches", AT(redraw_upwards, was_in), OVER_0, "Of the old chart."},
    {"now_inches", AT(redraw_upwards, now_in), OVER_0, "Of the new chart as often."},
    {"nearest_upwards", AT(redraw_upwards, best), FROM_1, "So many times the new chart comes nearest."},
    {"nearest_inches", AT(redraw_upwards, best_in), OVER_0, "What that measures."},
    {"nearest_off_part", AT(redraw_upwards, best_off_part), ANY, "Against was_inches."},
    {0}}};

static const struct json_table plain_rows = {ON_A_LINE, ROWS{
    {"below_was", AT(redraw_plain, below_was), FROM_0, "Below, in the old chart."},
    {"below_now", AT(redraw_plain, below_now), FROM_0, "Below, in the new chart."},
    {"above_was", AT(redraw_plain, above_was), FROM_0, "Above, in the old chart."},
    {"above_now", AT(redraw_plain, above_now), FROM_0, "Above, in the new chart."},
    {0}}};

/* The first is the one taken. */
static void write_taken(struct json *json, const char *key, const struct json_at *at)
{
    json_bool(json, key, at->index == 0);
}

static const struct json_table way = {ON_A_LINE, ROWS{
    {"repeat_stitches", AT(redraw_way, count), FROM_1, "Stitches of the repeat."},
    {"repeats", AT(redraw_way, repeats), FROM_1, "Times it goes into the piece."},
    {"stitches", AT(redraw_way, stitches), FROM_1, "Stitches of the piece, side stitches and selvedge included."},
    {"finished_inches", AT(redraw_way, finished_in), OVER_0, "What that measures."},
    {"off_part", AT(redraw_way, off_part), ANY, "finished_inches / target_inches - 1."},
    {"repeat_off_part", AT(redraw_way, wide_part), ANY, "The repeat against its exact width."},
    {"taken", BY(JSON_BOOL, write_taken), ANY, "The new chart has it."},
    {0}}};

static const struct json_table row_way = {ON_A_LINE, ROWS{
    {"rows", AT(redraw_way, count), FROM_1, "Rows or rounds."},
    {"finished_inches", AT(redraw_way, finished_in), OVER_0, "What they measure."},
    {"off_part", AT(redraw_way, off_part), ANY, "Against the old height."},
    {"taken", BY(JSON_BOOL, write_taken), ANY, "The new chart has it."},
    {0}}};

/* --- symmetries ------------------------------------------------------------------------------- */

static const char *const kind_words[] = {
    [SYMMETRY_ALONG] = "again along", [SYMMETRY_DROP] = "again up", [SYMMETRY_ACROSS] = "mirror left to right",
    [SYMMETRY_UPSIDE] = "mirror top to bottom", [SYMMETRY_TURN] = "half-turn"};

static void write_kept(struct json *json, const char *key, const struct json_at *at)
{
    json_bool(json, key, ((const struct plan_redraw *)at->up->object)->answer.keeps[at->index]);
}

static const struct json_table symmetry = {ON_A_LINE, ROWS{
    {"kind", WORD(symmetry, kind, kind_words), ANY, "Which."},
    {"columns", AT(symmetry, column), ANY, "Stitches it moves along, or the place of its mirror."},
    {"rows", AT(symmetry, row), ANY, "Rows it moves up, or the place of its mirror."},
    {"kept", BY(JSON_BOOL, write_kept), ANY, "The new chart has it too."},
    {0}}};

static const struct json_table keeps_all_at = {ON_A_LINE, ROWS{
    {"columns", AT(plan_redraw, keeps_cols), FROM_1, "Stitches."},
    {"rows", AT(plan_redraw, keeps_rows), FROM_1, "Rows."},
    {0}}};

static const struct json_table mend_first = {ON_A_LINE, ROWS{
    {"row", NUMBERED(proof_fault, row), FROM_1, "Row or round of the chart, from 1 below."},
    {"column", NUMBERED(proof_fault, column), FROM_1, "Stitch, from 1 at the right."},
    {"yarn", YARN(proof_fault, yarn), OR_NULL, "What it is in; null: no stitch."},
    {"wanted", YARN(proof_fault, wanted), OR_NULL, "What its partner is in."},
    {0}}};

static void write_mend_first(struct json *json, const char *key, const struct json_at *at)
{
    const struct proof_chart *nearly = ((const struct plan_redraw *)at->object)->nearly;

    json_array_open(json, key);
    for (int i = 0; nearly && i < nearly->nfaults; i++)
        json_write_table(json, NULL, &mend_first, &(struct json_at){&nearly->faults[i], i, at});
    json_array_close(json);
}

/* --- faults ----------------------------------------------------------------------------------- */

static const struct json_table faults = {ON_A_LINE, ROWS{
    {"lines", AT(resize_faults, lines), FROM_0, "Places where a one-stitch line breaks."},
    {"split", AT(resize_faults, split), FROM_0, "Pieces that have come off a part."},
    {"joined", AT(resize_faults, joined), FROM_0, "Parts that have run into others."},
    {"lost", AT(resize_faults, lost), FROM_0, "Parts of which nothing is left."},
    {"holes", AT(resize_faults, holes), FROM_0, "Of those: single stitches of the ground inside something."},
    {"floats", AT(resize_faults, floats), FROM_0,
     "Floats over the limit in a repeat, beyond those of the old rows that lie there."},
    {0}}};

static const struct json_table ends_lost = {ON_A_LINE, ROWS{
    {"count", AT(plan_redraw, answer.ends_lost), FROM_0, "So many."},
    {"rows_was", NUMBERS(plan_redraw, answer.ends_rows.number, answer.ends_rows.count), FROM_1,
     "Rows of the old chart where those parts had ends.", .each = "A number from 1."},
    {0}}};

static const char *const along_words[] = {"columns", "rows"};

static const struct json_table crowd = {ON_LINES, ROWS{
    {"in", WORD(redraw_crowd, along, along_words), ANY, "Rows or columns."},
    {"numbers", NUMBERS(redraw_crowd, at.number, at.count), FROM_1,
     "Which.", .each = "A number from 1.", .more = "\"minItems\": 1"},
    {"from", NUMBERED(redraw_crowd, stretch.from), FROM_1, "First stitch (or row) of the stretch."},
    {"length", AT(redraw_crowd, stretch.length), FROM_1, "So many, over the join where they go on."},
    {"runs", AT(redraw_crowd, stretch.runs), FROM_1, "Runs of colour in it: each needs one."},
    {"room", AT(redraw_crowd, stretch.room), FROM_0, "New stitches (or rows) that lie there."},
    {0}}};

static const struct json_table floats = {ON_A_LINE, ROWS{
    {"longest_stitches", AT(redraw_floats, longest_sts), FROM_0,
     "The longest float, in stitches it passes behind; 0: there are none."},
    {"longest_inches", AT(redraw_floats, longest_in), FROM_0, "The same as a length."},
    {"over_limit_piece", AT(redraw_floats, over_limit), FROM_0,
     "Floats over the limit in one piece, all times upwards."},
    {"catches_repeat", AT(redraw_floats, catches_repeat), FROM_0, "Catches in one repeat of the chart."},
    {"catches_piece", AT(redraw_floats, catches_piece), FROM_0, "Catches in one piece, all times upwards."},
    {0}}, "floats"};

static const struct json_table area = {ON_A_LINE, ROWS{
    {"differs_part", AT(plan_redraw, differs_part), PART, "Part of the area in another colour."},
    {"least_part", AT(plan_redraw, least_part), PART, "The least that whole stitches can have."},
    {0}}};

static int stitches_of_chart(const struct json_at *at)
{
    const struct grid *chart = &((const struct plan_redraw *)at->object)->answer.chart;

    return chart->nrows * chart->ncols;
}

static bool is_changed(const struct json_at *at)
{
    return *(const uint8_t *)at->object;
}

static void write_row(struct json *json, const char *key, const struct json_at *at)
{
    json_whole(json, key, at->index / ((const struct plan_redraw *)at->up->object)->answer.chart.ncols + 1);
}

static void write_column(struct json *json, const char *key, const struct json_at *at)
{
    json_whole(json, key, at->index % ((const struct plan_redraw *)at->up->object)->answer.chart.ncols + 1);
}

static const struct json_table changed = {ON_A_LINE, ROWS{
    {"row", BY(JSON_INT, write_row), FROM_1, "Row or round of the chart, from 1 below."},
    {"column", BY(JSON_INT, write_column), FROM_1, "Stitch, from 1 at the right."},
    {0}}};

/* --- the chart, the project, the whole --------------------------------------------------------- */

static const struct json_table project = {ON_A_LINE, ROWS{
    {"take_out_begin_with", AT(plan_redraw, begins), ANY, "With the new chart `begin with` is to be taken out."},
    {"take_out_remedy", AT(plan_redraw, remedy), ANY, "With the new chart `remedy` is to be taken out."},
    {"repeats", AT(plan_redraw, repeats), FROM_1 | OR_NULL,
     "Its number of repeats does not suit the new chart: this one does; null: it says none, or the same."},
    {"counted_with_others", AT(plan_redraw, counted_with_others), ANY,
     "The band's count is solved with other bands; all of this is of the band alone."},
    {0}}};

static const struct json_table mark = {ON_A_LINE, ROWS{
    {"yarn", AT(redraw_mark, yarn), ANY, "Its name."},
    {"mark", AT(redraw_mark, mark), ANY, "Its mark.", .more = "\"minLength\": 1"},
    {"given", AT(redraw_mark, given), ANY, "The project gives it; false: chosen here."},
    {0}}};

/* A grid of the redraw. The top row first, the leftmost stitch first, as in a chart file. */
static void write_grid(struct json *json, const char *key, const struct json_at *at)
{
    const struct grid *grid = at->object;
    const struct plan_redraw *redraw = at->up->object;
    struct text row = text_create(json->out->arena);

    json_array_open(json, key);
    for (int r = grid->nrows - 1; r >= 0 && grid->ncols > 0; r--) {
        row.length = 0;
        for (int c = grid->ncols - 1; c >= 0; c--)
            text_add(&row, redraw->marks[grid->cell[r * grid->ncols + c]].mark);
        json_string(json, NULL, row.bytes);
    }
    json_array_close(json);
}

#define GRID(p, m)                                                                                          \
    {JSON_LIST, offsetof(struct plan_redraw, p), .pointed = true, .inner = offsetof(struct plan_band, m),   \
     .item = JSON_STRING, .write = write_grid}

static const struct json_table chart = {ON_LINES, ROWS{
    {"marks", LIST_HERE(plan_redraw, marks, nmarks, mark), ANY,
     "What each yarn is written as.", .each = "One yarn.", .more = "\"minItems\": 1"},
    {"was", GRID(old, drawn), ANY,
     "One repeat of the old chart.",
     .each = "The marks of a row, the leftmost stitch first.", .more = "\"minItems\": 1"},
    {"now", GRID(band, drawn), ANY,
     "One repeat of the new chart.",
     .each = "The marks of a row, the leftmost stitch first.", .more = "\"minItems\": 1"},
    {"left_was", GRID(old, left), ANY,
     "Side stitches of the old chart at the left; empty without.",
     .each = "The marks of a row, the leftmost stitch first."},
    {"right_was", GRID(old, right), ANY,
     "Its side stitches at the right; empty without.", .each = "The marks of a row, the leftmost stitch first."},
    {"left_now", GRID(band, left), ANY,
     "Side stitches of the new chart at the left; empty without.",
     .each = "The marks of a row, the leftmost stitch first."},
    {"right_now", GRID(band, right), ANY,
     "Its side stitches at the right; empty without.", .each = "The marks of a row, the leftmost stitch first."},
    {0}}};

static const struct json_table redraw_table = {ON_LINES, ROWS{
    {"format", BY(JSON_INT, write_format), ANY,
     "Raised when a name changes its meaning or goes.", .more = "\"const\": 1"},
    {"band", THROUGH(plan_redraw, old, plan_band, name), ANY,
     "The band whose chart it is.", .more = "\"minLength\": 1"},
    {"chart_name", THROUGH(plan_redraw, old, plan_band, chart_name), ANY,
     "The old chart as the project names it."},
    {"worked", WORD(plan_redraw, round, worked_words), ANY, "How the piece is worked."},
    {"upwards", THROUGH(plan_redraw, old, plan_band, upwards), FROM_1,
     "So many times the chart is worked upwards."},
    {"gauge_was", OBJECT(plan_redraw, gauge_was, gauge), ANY, "The gauge of the plan."},
    {"gauge_now", OBJECT(plan_redraw, gauge_now, gauge), ANY,
     "The gauge it is redrawn for; the same where only counts were asked for."},
    {"target_inches", AT(plan_redraw, target_in), OVER_0,
     "What the piece is to measure in the band: its own measure, or that of --around."},
    {"stitches", OBJECT(plan_redraw, columns, line), ANY, "The stitches of the chart, old and new."},
    {"rows", OBJECT(plan_redraw, rows, line), ANY, "The rows or rounds of the chart, old and new."},
    {"all_upwards", OBJECT(plan_redraw, upwards, all_upwards), ANY, "The height of all times upwards."},
    {"plain_rows", OBJECT(plan_redraw, plain, plain_rows), ANY,
     "Rows of the ground at one end of the chart beyond those at its other end, set apart because the rows "
     "between are then symmetrical; all 0: none."},
    {"stretch_part", AT(plan_redraw, stretch_part), ANY,
     "Width for its height against what it was: 0.1 is 10 % wider."},
    {"ways", LIST_HERE(plan_redraw, ways.of, ways.n, way), ANY,
     "Numbers of stitches for the repeat, the one taken first.",
     .each = "One of them.", .more = "\"minItems\": 1, \"maxItems\": 4"},
    {"row_ways", LIST_HERE(plan_redraw, heights.of, heights.n, row_way), ANY,
     "Numbers of rows for the chart, the one taken first, then those nearest the old height that keep every "
     "symmetry.", .each = "One of them.", .more = "\"minItems\": 1, \"maxItems\": 4"},
    {"symmetries", LIST_HERE(plan_redraw, answer.motif.move, answer.motif.nmoves, symmetry), ANY,
     "Symmetries of the old chart; all others follow from these.", .each = "One of them.", .more = "\"maxItems\": 5"},
    {"keeps_middle", AT(plan_redraw, answer.columns.keeps_middle), ANY,
     "A centre line on a stitch stays on one, one between two stays between."},
    {"keeps_all_at", SAME(keeps_all_at), OR_NULL,
     "A symmetry is lost: the nearest counts that keep every one; null: none is lost, or none near.",
     IF(plan_redraw, keeps_cols)},
    {"mend_first", {JSON_LIST, .table = &mend_first, .write = write_mend_first}, ANY,
     "Stitches for which the old chart just misses a symmetry; they should be mended before it is redrawn.",
     .each = "One of them."},
    {"faults", OBJECT(plan_redraw, answer.faults, faults), ANY,
     "What could not be kept, counted."},
    {"ends_lost", SAME(ends_lost), ANY,
     "Tips and short arms that the new chart has no more, counted where no line or part broke and the new chart "
     "has fewer stitches or rows."},
    {"recognisable", AT(plan_redraw, answer.recognisable), ANY,
     "false: over half of the pieces of lines are broken, or of the parts joined or lost; or no less differs "
     "than if all were ground."},
    {"crowded", LIST(plan_redraw, crowds, ncrowds, crowd), ANY,
     "Stretches with more runs of colour than new stitches or rows lie there, where something broke.",
     .each = "One of them, the same in several rows or columns."},
    {"rows_hurt_was", NUMBERS(plan_redraw, answer.broken_rows.number, answer.broken_rows.count), FROM_1,
     "Rows of the old chart in which something could not be kept.", .each = "A number from 1."},
    {"rows_hurt_now", NUMBERS(plan_redraw, answer.broken_new_rows.number, answer.broken_new_rows.count), FROM_1,
     "Rows of the new chart that lie there.", .each = "A number from 1."},
    {"area", SAME(area), ANY, "The new chart against the old one drawn to true size."},
    {"changed", {JSON_LIST, offsetof(struct plan_redraw, answer.changed), .pointed = true, .size = 1,
      .table = &changed, .count = stitches_of_chart, .only = is_changed}, ANY,
     "Stitches of the new chart in another colour than covers most of them, by row, then column.",
     .each = "One of them."},
    {"project", SAME(project), ANY, "What the project says beside the chart."},
    {"float_limit_inches", AT(plan_redraw, limit_in), OVER_0, "Floats up to this length are left loose."},
    {"floats_was", OBJECT(plan_redraw, was, floats), ANY,
     "Floats and catches of the old chart in the piece as planned."},
    {"floats_now", OBJECT(plan_redraw, now, floats), OR_NULL,
     "Floats and catches of the new chart, planned like the old; null where it cannot be planned at its gauge.",
     IF(plan_redraw, planned)},
    {"chart", SAME(chart), ANY, "Both charts in marks, the top row first."},
    {0}}};

void render_redraw_json(const struct plan *plan, const struct plan_redraw *redraw, struct text *out)
{
    struct json json = json_begin(out, plan);
    struct json_at at = {redraw, 0, NULL};

    json_write_table(&json, NULL, &redraw_table, &at);
    json_end(&json);
}

void render_redraw_json_schema(struct text *out)
{
    json_write_schema(out, &redraw_table, "A chart redrawn for another gauge",
                      "What `strandwise resize PROJECT --as json` prints. Lengths are in inches, "
                      "parts are parts of one (0.02: 2 %). Rows and stitches count from 1, rows from "
                      "below, stitches from the right, but in `chart`, whose rows stand as in a chart "
                      "file.");
}
