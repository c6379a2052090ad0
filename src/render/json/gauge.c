/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Gauge, yarn in a stitch, the float limit, cast-on, bind-off, and the steps from the one to the other.
 */
#include "tables.h"

const char *const worked_words[2] = {"flat", "round"};

static const struct json_table axis = {ON_A_LINE, ROWS{
    {"places", AT(gauge_axis, nplaces), FROM_1, "Places stitches or rows were counted in."},
    {"spread_part", AT(gauge_axis, spread), FROM_0,
     "(Largest count - smallest) / mean, as a part: 0.02 is 2 %. 0 with one place."},
    {"likely_within_part", AT(gauge_axis, half_width), FROM_0 | OR_NULL,
     "Half of the 95 % interval of the mean (Student's t), as a part of it. null with one place."},
    {0}}, "axis",
    "Counts taken along one direction of the swatch."};

const struct json_table gauge_table = {ON_LINES, ROWS{
    {"measured", AT(plan_gauge, measured), ANY,
     "false: no swatch of this fabric was given; the stranded gauge stands in."},
    {"stitches_per_inch", AT(plan_gauge, per_in), OVER_0,
     "Stitches per inch, pooled over all places, from the exact fraction."},
    {"rows_per_inch", AT(plan_gauge, rows_per_in), OVER_0, "Rows (rounds) per inch, likewise."},
    {"stitch_width_mm", AT(plan_gauge, stitch_width_mm), OVER_0, "Width of a stitch, millimetres."},
    {"row_height_mm", AT(plan_gauge, row_height_mm), OVER_0, "Height of a row, millimetres."},
    {"worked", WORD(plan_gauge, round, worked_words), ANY, "How the swatch was worked."},
    {"washed", AT(plan_gauge, washed), ANY, "Whether the swatch was washed before it was measured."},
    {"wanted", AT(plan_gauge, wanted), ANY, "true: no swatch shows it yet, a way round a repeat asks for it."},
    {"needle_mm", AT(plan_gauge, needle_mm), OVER_0 | OR_NULL,
     "Thickness of the needle, millimetres. null: not said."},
    {"needle_us", AT(plan_gauge, needle_us), OR_NULL,
     "US size of that needle, from the table. null: not said, or no such size."},
    {"yarn_weight", AT(plan_gauge, weight_name), OR_NULL,
     "Yarn weight whose published range holds this gauge. null: none."},
    {"stitches", OBJECT(plan_gauge, gauge.stitches, axis), ANY, "Spread of the stitch counts."},
    {"rows", OBJECT(plan_gauge, gauge.rows, axis), ANY, "Spread of the row counts."},
    {0}}, "gauge",
    "A fabric's gauge."};

static const struct json_table measured = {ON_A_LINE, ROWS{
    {"lengths", AT(plan_loop, nobservations), FROM_1, "Lengths of yarn measured, a count."},
    {"beyond_need", THROUGH(plan_loop, judged, loop_fit, freedom), FROM_0,
     "How many of them are more than were needed, a count."},
    {"chi_square", THROUGH(plan_loop, judged, loop_fit, chi_square), FROM_0,
     "Sum of the squares of what is left over, each in its standard error."},
    {"chance", THROUGH(plan_loop, judged, loop_fit, chance), PART | OR_NULL,
     "Chance of so much left over by errors alone, 0 to 1. null: none beyond need."},
    {"by_yarn", AT(plan_loop, by_yarn), ANY, "Whether the yarns have stitches of their own."},
    {0}}};

static const char *const measure_words[] = {
    [MEASURE_NOTHING] = NULL, [MEASURE_STRANDED_ROW] = "stranded row unravelled",
    [MEASURE_PLAIN_ROW] = "plain row unravelled", [MEASURE_MARKED] = "marked length",
    [MEASURE_WEIGHT] = "swatch weighed", [MEASURE_GAUGE] = "gauge in more places"};

static const struct json_table advice = {ON_A_LINE, ROWS{
    {"measure", WORD(plan_advice, measure, measure_words), ANY,
     "What to measure. null: nothing would help much."},
    {"error_part_now", AT(plan_advice, part_now), FROM_0,
     "All the yarn together is within this part, nine times in ten."},
    {"error_part_then", AT(plan_advice, part_then), FROM_0, "The same after that measurement."},
    {0}}};

static const char *const slack_words[] = {
    [SLACK_GIVEN] = "project", [SLACK_MEASURED] = "measured", [SLACK_TABLE] = "table"};

const struct json_table loop_table = {ON_LINES, ROWS{
    {"method", WORD(plan_loop, method, method_words), ANY, "What it was taken from."},
    {"stitch_mm", AT(plan_loop, loop_mm), OVER_0, "Yarn in a stitch of the stranded fabric, millimetres."},
    {"plain_stitch_mm", AT(plan_loop, plain_loop_mm), OVER_0,
     "Yarn in a stitch of the plain fabric, millimetres."},
    {"error_part", AT(plan_loop, error_part), FROM_0,
     "Within this part either way, nine times in ten: 0.12 is 12 %."},
    {"slack_ratio", AT(plan_loop, slack_ratio), OVER_0,
     "Strand in a float for the width it passes: 1.1 is 10 % slack."},
    {"slack_from", WORD(plan_loop, slack_origin, slack_words), ANY, "Where the slack comes from."},
    {"by_density_mm", AT(plan_loop, density_mm), FROM_0 | OR_NULL,
     "The same from stitch density alone, millimetres."},
    {"by_width_mm", AT(plan_loop, width_mm), FROM_0 | OR_NULL, "The same from stitch width alone, millimetres."},
    {"by_thickness_mm", AT(plan_loop, thickness_mm), FROM_0 | OR_NULL,
     "The same from the thickness of the yarn, millimetres. null: no ball given."},
    {"spread_part", AT(plan_loop, spread_part), FROM_0 | OR_NULL,
     "(Largest - smallest) / mean of those three, as a part."},
    {"gauge_error_part", AT(plan_loop, gauge_error_part), FROM_0,
     "How far the yarn in a stitch from gauge alone may be out, nine times in ten, as a part."},
    {"fit", SAME(measured), OR_NULL,
     "The measurements taken together. null: nothing measured.", IF(plan_loop, fit)},
    {"would_help_most", OBJECT(plan_loop, advice, advice), ANY,
     "The one measurement more that would make all the yarn together surest."},
    {0}}};

/* --- float limit, cast-on, bind-off: members of the plan ---------------------------------------- */

static const char *const rule_words[] = {"leave up to", "catch at"};
static const char *const edge_words[] = {[EDGE_ANCHOR] = "anchor", [EDGE_TURN] = "turn"};

const struct json_table float_limit_table = {ON_LINES, ROWS{
    {"rule", WORD(plan, piece.limit_catch_at, rule_words), ANY,
     "leave up to: longer than limit_inches is caught; catch at: limit_inches or longer is caught."},
    {"limit_inches", AT(plan, piece.limit_in), OVER_0, "The limit, inches."},
    {"edges", WORD(plan, edges, edge_words), ANY, "Flat work: strands anchored at each edge, or turned."},
    {"stagger_columns", AT(plan, stagger_cols), FROM_1,
     "Columns a catch keeps away from one in the next row, where there is room."},
    {"clear_ends_stitches", AT(plan, clear_ends), FROM_1,
     "Stitches kept clear at both ends of a float, where there is room."},
    {"spare_catches", AT(plan, spare_catches), ANY,
     "Whether a float may take one catch over the fewest to keep off the row below."},
    {"carry_up_inches", AT(plan, carry_up_in), FROM_0, "Longest wait a yarn is carried up, inches."},
    {0}}};

static const struct json_table candidate = {ON_A_LINE, ROWS{
    {"stitches", AT(plan_candidate, stitches), FROM_1,
     "The count, with side stitches and, in flat work, selvedge; steek left out."},
    {"finished_inches", AT(plan_candidate, finished_in), FROM_0, "Width it gives, inches."},
    {"ease_part", AT(plan_candidate, ease_ratio), OR_NULL,
     "Ease it gives, as a part of the measure; minus: snug. null: no measure."},
    {"fits_bands", BANDS(plan_candidate, fits_bands), ANY,
     "Bands of which whole repeats fit.", .each = "Name of a band."},
    {"fits_rib", AT(plan_candidate, fits_rib), ANY, "Whether the rib divides it."},
    {"chosen", AT(plan_candidate, chosen), ANY, "Whether the plan uses it."},
    {0}}};

static const struct json_table rib = {ON_A_LINE, ROWS{
    {"knit", AT(plan, piece.cast_on.rib_knit), FROM_1, "Knit stitches of the rib, a count."},
    {"purl", AT(plan, piece.cast_on.rib_purl), FROM_1, "Purl stitches of the rib, a count."},
    {"rows", AT(plan, piece.cast_on.rib_rounds), FROM_1, "Rows or rounds of rib."},
    {"stitches", AT(plan, piece.cast_on.rib_sts), FROM_1, "Stitches in the rib, selvedge and steek left out."},
    {0}}};

static const char *const cast_on_words[] = {
    [CAST_ON_LONG_TAIL] = "long tail", [CAST_ON_PROVISIONAL] = "provisional", [CAST_ON_OTHER] = "other"};
static const char *const bind_off_words[] = {
    [BIND_OFF_STANDARD] = "standard", [BIND_OFF_SEWN] = "sewn", [BIND_OFF_CORD] = "cord",
    [BIND_OFF_NONE] = "none"};

const struct json_table cast_on_table = {ON_LINES, ROWS{
    {"stitches", AT(plan, piece.cast_on.stitches), FROM_1,
     "Stitches on the needle after casting on: rib or body, selvedge and steek."},
    {"body_stitches", AT(plan, piece.cast_on.body_sts), FROM_0,
     "Body stitches of the first part, selvedge and steek left out."},
    {"selvedge_stitches", AT(plan, piece.cast_on.selvedge_sts), FROM_0,
     "Selvedge stitches, both edges together."},
    {"rib_even_stitches", AT(plan, piece.cast_on.rib_even_sts), FROM_1 | OR_NULL,
     "At a steek: so many rib stitches would end as they begin. null: they do, or there is no steek."},
    {"steek_stitches", AT(plan, piece.cast_on.steek_sts), FROM_0, "Steek stitches."},
    {"kind", WORD(plan, piece.cast_on.kind, cast_on_words), ANY, "How it is cast on."},
    {"yarn", YARN(plan, piece.cast_on.yarn), OR_NULL, "Its yarn. null: not settled."},
    {"width_inches", AT(plan, piece.cast_on.width_in), FROM_0, "Width of the cast-on edge at the gauge, inches."},
    {"rib", SAME(rib), OR_NULL, "The rib. null: none.", IF(plan, piece.cast_on.has_rib)},
    {"candidates", LIST(plan, candidates, ncandidates, candidate), ANY,
     "Counts near the measure, and what fits each.", .each = "One count."},
    {0}}};

const struct json_table bind_off_table = {ON_A_LINE, ROWS{
    {"kind", WORD(plan, bind_off, bind_off_words), ANY, "How it is bound off."},
    {"yarn", YARN(plan, bind_off_yarn), OR_NULL, "Its yarn. null: none."},
    {"tail_inches", AT(plan, tail_in), FROM_0, "Tail left at every end, inches."},
    {0}}};

/* --- steps ----------------------------------------------------------------------------------- */

static const struct json_table shaping = {ON_LINES, ROWS{
    {"rows", AT(shaping, rounds), FROM_1, "Rows or rounds of shaping it takes."},
    {"line", AT(shaping, line), OR_NULL, "The line to knit from. null: nothing to shape."},
    {"sum", AT(shaping, sum), OR_NULL, "The sum that checks it. null: nothing to shape."},
    {0}}};

static const char *const step_words[] = {
    [STEP_CAST_ON] = "cast on", [STEP_RIB] = "rib", [STEP_SHAPE] = "shape", [STEP_PLAIN] = "plain",
    [STEP_BAND] = "band", [STEP_BIND_OFF] = "bind off"};

static bool is_shaping(const struct json_at *at)
{
    return ((const struct plan_step *)at->object)->kind == STEP_SHAPE;
}

/* A band has yarns of its own. */
static bool is_no_band(const struct json_at *at)
{
    return ((const struct plan_step *)at->object)->kind != STEP_BAND;
}

const struct json_table step_table = {ON_LINES, ROWS{
    {"kind", WORD(plan_step, kind, step_words), ANY, "What is done."},
    {"name", AT(plan_step, name), ANY, "Section of the band or plain part; empty otherwise."},
    {"yarn", YARN(plan_step, yarn), OR_NULL, "Its yarn. null: a band, which names its own.", WHEN(is_no_band)},
    {"purl_yarn", YARN(plan_step, yarn2), OR_NULL, "Yarn of the purl stitches of a two-colour rib. null: none."},
    {"from_stitches", AT(plan_step, from_sts), FROM_0, "Stitches before it, selvedge and steek left out."},
    {"to_stitches", AT(plan_step, to_sts), FROM_0, "Stitches after it, likewise."},
    {"stitches_on_needle", AT(plan_step, on_needle), FROM_0, "Stitches on the needle after it, all counted."},
    {"rows", AT(plan_step, rows), FROM_0, "Rows or rounds it takes; 0: a part counted otherwise."},
    {"first_row", AT(plan_step, first_row), FROM_1 | OR_NULL,
     "Number of its first row or round in the piece, from 1. null: it has none."},
    {"height_inches", AT(plan_step, height_in), FROM_0, "Its height, inches."},
    {"stitches", AT(plan_step, stitches), FROM_0, "Stitches worked in it, selvedge and steek left out."},
    {"counted_otherwise", AT(plan_step, counted_otherwise), ANY,
     "true: its stitches are counted otherwise (a heel, a thumb)."},
    {"sewn_inches", AT(plan_step, sewn_in), OVER_0 | OR_NULL,
     "Width of flat work once the seam has taken up the edge stitches, inches. null: no seam, no selvedge, or no "
     "such part."},
    {"tail_inches", AT(plan_step, length_in), OVER_0 | OR_NULL,
     "Tail of a long-tail cast-on, inches. null: not a cast-on, or no tail."},
    {"shaping", OBJECT(plan_step, shaping, shaping), OR_NULL,
     "Increases or decreases spread evenly. null: not a shaping.", WHEN(is_shaping)},
    {0}}};
