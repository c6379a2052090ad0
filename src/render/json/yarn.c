/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Yarn: where the metres go, what to buy, what else could be done with the colours, swatches, close calls.
 */
#include <stdio.h>

#include "tables.h"

const char *const method_words[METHOD_WORDS] = {
    [LOOP_FROM_TWO_YARNS] = "stranded row unravelled", [LOOP_FROM_PLAIN_ROW] = "plain row unravelled",
    [LOOP_FROM_MARKED] = "marked length", [LOOP_FROM_WEIGHT] = "swatch weighed",
    [LOOP_FROM_BALL] = "ball weighed", [LOOP_FROM_SEVERAL] = "several measurements",
    [LOOP_FROM_GAUGE] = "gauge"};

static const char *const close_call_words[] = {
    [CALL_NEARLY_USED] = "last ball nearly used up", [CALL_HARDLY_TOUCHED] = "last ball hardly touched"};

static void write_mark(struct json *json, const char *key, const struct json_at *at)
{
    const struct plan_yarn *yarn = at->object;

    json_string(json, key, yarn->mark && *yarn->mark ? yarn->mark : NULL);
}

static void write_shade(struct json *json, const char *key, const struct json_at *at)
{
    const struct plan_yarn *yarn = at->object;
    char shade[sizeof "#rrggbb"];

    snprintf(shade, sizeof shade, "#%02x%02x%02x", yarn->rgb[0], yarn->rgb[1], yarn->rgb[2]);
    json_string(json, key, yarn->shade_given ? shade : NULL);
}

static void write_method(struct json *json, const char *key, const struct json_at *at)
{
    (void)at;
    json_string(json, key, method_words[json->plan->piece.loop.method]);
}

static void write_slack(struct json *json, const char *key, const struct json_at *at)
{
    (void)at;
    json_number(json, key, json->plan->piece.loop.slack_ratio);
}

static bool can_be_counted(const struct json_at *at)
{
    const struct plan_yarn *yarn = at->object;

    return yarn->has_ball && !yarn->beyond_count;
}

static const struct json_table enough = {ON_A_LINE, ROWS{
    {"balls", AT(plan_enough, balls), FROM_0, "Balls to buy, a count; 0: what is in hand alone."},
    {"chance", AT(plan_enough, chance), PART, "Chance that they are enough, 0 to 1."},
    {0}}};

#define USE(u) {JSON_DOUBLE, (u) * sizeof(double)} /* of double use_m[USE_COUNT] */

static const struct json_table parts = {ON_LINES, ROWS{
    {"stitches_m", USE(USE_STITCHES), FROM_0, "Stitches of the bands, metres."},
    {"floats_m", USE(USE_FLOATS), FROM_0, "Floats, slack included, metres."},
    {"catches_m", USE(USE_CATCHES), FROM_0, "Allowance for catches, metres."},
    {"cast_on_m", USE(USE_CAST_ON), FROM_0, "Cast-on, metres."},
    {"rib_m", USE(USE_RIB), FROM_0, "Rib, metres."},
    {"plain_m", USE(USE_PLAIN), FROM_0, "Plain rows and parts, and shaping rows, metres."},
    {"selvedge_m", USE(USE_SELVEDGE), FROM_0, "Selvedge stitches, metres."},
    {"steek_m", USE(USE_STEEK), FROM_0, "Steek stitches, metres."},
    {"bind_off_m", USE(USE_BIND_OFF), FROM_0, "Bind-off, metres."},
    {"seam_m", USE(USE_SEAM), FROM_0, "Seams sewn, metres."},
    {"carried_m", USE(USE_CARRIED), FROM_0, "Carried up behind the work while it waits, metres."},
    {"tails_m", USE(USE_TAILS), FROM_0, "Tails to weave in and joins, metres."},
    {"duplicate_m", USE(USE_DUPLICATE), FROM_0, "Duplicate stitch, travel and tails included, metres."},
    {"swatch_m", USE(USE_SWATCH), FROM_0,
     "Swatches, where they are counted (swatch = keep), metres. Once, however many pieces."},
    {0}}, "parts"};

static const struct json_table buy = {ON_A_LINE, ROWS{
    {"ball_g", AT(plan_yarn, ball_g), OVER_0, "Weight of a ball, grams."},
    {"band_m", AT(plan_yarn, band_m), OVER_0, "Length of a ball as its band says, metres."},
    {"ball_m", AT(plan_yarn, ball_m), OVER_0,
     "Length of a ball, as tape and scale together make it, metres; else as its band says."},
    {"have_m", AT(plan_yarn, have_m), FROM_0, "In hand and used first, metres."},
    {"balls_to_buy", AT(plan_yarn, buy.balls), FROM_0,
     "Balls to buy: `balls`, or more where those are not enough with the confidence wanted. A count."},
    {"have_enough", AT(plan_yarn, have_enough), ANY,
     "Whether what is in hand is enough with the margin and with the confidence wanted: nothing to buy."},
    {"need_m", AT(plan_yarn, need_m), FROM_0, "Needed with margin and joins beside what is in hand, metres."},
    {"left_m", AT(plan_yarn, buy.left_m), FROM_0, "Left over, metres."},
    {"last_ball_used_part", AT(plan_yarn, buy.last_used), PART, "Part of the last ball that is used, 0 to 1."},
    {"close_call", WORD(plan_yarn, close_call, close_call_words), ANY,
     "Where the last ball is nearly used up, or hardly touched. null: neither."},
    {"low_m", AT(plan_yarn, likely.buy_low_m), FROM_0 | OR_NULL,
     "The likely range nine times in ten against balls of ball_m, which may be out too: from, metres."},
    {"high_m", AT(plan_yarn, likely.buy_high_m), FROM_0 | OR_NULL, "The same: to, metres."},
    {"chance", AT(plan_yarn, likely.margin_chance), PART,
     "Chance that `balls` (those of the margin) are enough, 0 to 1."},
    {"confidence", AT(plan_yarn, likely.confidence), PART,
     "How sure to be that the balls are enough, as a part: 0.95 is 95 %."},
    {"sure_balls", AT(plan_yarn, likely.sure_balls), FROM_0,
     "The fewest balls that are enough with that confidence, a count."},
    {"sure_chance", AT(plan_yarn, likely.sure_chance), PART, "Chance that sure_balls are enough, 0 to 1."},
    {"more_chance", AT(plan_yarn, likely.more_chance), PART, "Chance that one ball more is enough, 0 to 1."},
    {0}}};

static const struct json_table carry = {ON_A_LINE, ROWS{
    {"waits", AT(carry_tally, waits), FROM_0, "Stretches over which it is carried up, a count."},
    {"carried_rows", AT(carry_tally, carried_rows), FROM_0, "Rows it is carried up, all together."},
    {"carried_mm", AT(carry_tally, carried_mm), FROM_0, "Strand carried up, millimetres."},
    {"longest_wait_rows", AT(carry_tally, longest_wait_rows), FROM_0, "Longest wait carried, rows."},
    {"cuts", AT(carry_tally, cuts), FROM_0, "Times it is cut and joined again."},
    {"ends", AT(carry_tally, ends), FROM_0, "Ends to weave in, a count."},
    {0}}};

const struct json_table yarn_table = {ON_LINES, ROWS{
    {"yarn", AT(plan_yarn, name), ANY, "The yarn, by the name of its section."},
    {"mark", BY(JSON_STRING, write_mark), OR_NULL, "Its mark in the charts. null: none."},
    {"shade", BY(JSON_STRING, write_shade), OR_NULL,
     "Its shade, #rrggbb. null: none given.", .more = "\"pattern\": \"^#[0-9a-f]{6}$\""},
    {"used", AT(plan_yarn, used), ANY, "Whether anything is worked in it."},
    {"knitted", AT(plan_yarn, knitted), ANY, "false: only sewn on afterwards, or not used."},
    {"sewn_over", YARN(plan_yarn, over), OR_NULL,
     "The yarn that lies under it where it is sewn on afterwards. null: it is knitted."},
    {"stitches", AT(plan_yarn, stitches), FROM_0, "Stitches of the bands, all pieces."},
    {"float_stitches", AT(plan_yarn, float_stitches), FROM_0, "Float stitches of the bands, all pieces."},
    {"duplicate_stitches", AT(plan_yarn, duplicate_stitches), FROM_0, "Stitches sewn on, all pieces."},
    {"duplicate_spots", AT(plan_yarn, duplicate_spots), FROM_0, "Separate spots sewn on, all pieces, a count."},
    {"catches", AT(plan_yarn, catches), FROM_0, "Catches of its strand, all pieces."},
    {"spares", AT(plan_yarn, spares), FROM_0, "How many of those are over the fewest, all pieces."},
    {"stitch_m", AT(plan_yarn, stitch_m), FROM_0, "Yarn in the stitches of the bands, metres."},
    {"float_m", AT(plan_yarn, float_m), FROM_0, "Yarn in floats, metres, slack included."},
    {"catch_m", AT(plan_yarn, catch_m), FROM_0, "Allowance for catches, metres."},
    {"other_m", AT(plan_yarn, other_m), FROM_0, "All the rest (see parts), metres."},
    {"length_m", AT(plan_yarn, length_m), FROM_0,
     "Yarn used, metres, all pieces, before margin: stitch_m + float_m + catch_m + other_m."},
    {"grams", AT(plan_yarn, grams), FROM_0 | OR_NULL, "Weight of length_m, grams. null: no ball given."},
    {"balls", AT(plan_yarn, margin_balls), FROM_0 | OR_NULL,
     "Whole balls to buy, margin and joins included, a count. null: no ball given, or one no longer than a join.",
     WHEN(can_be_counted)},
    {"margin_part", AT(plan_yarn, margin), FROM_0, "Margin added before counting balls, as a part: 0.1 is 10 %."},
    {"low_m", AT(plan_yarn, likely.low_m), FROM_0,
     "The likely range of length_m, nine times in ten: from, metres."},
    {"high_m", AT(plan_yarn, likely.high_m), FROM_0, "The same: to, metres."},
    {"method", WORD_BY(write_method, method_words), ANY, "What its yarn in a stitch was taken from."},
    {"loop_mm", AT(plan_yarn, loop_mm), OVER_0,
     "Yarn in one of its stitches in the stranded fabric, millimetres."},
    {"slack_ratio", BY(JSON_DOUBLE, write_slack), OVER_0,
     "Strand in a float for the width it passes: 1.1 is 10 % slack."},
    {"enough", LIST(plan_yarn, likely.enough, likely.nenough, enough), ANY,
     "The chance that so many balls are enough, from the fewest worth a thought; of very many only the telling "
     "ones. Empty: no ball given.", .each = "One number of balls."},
    {"buy", SAME(buy), OR_NULL, "What to buy, all pieces. null: no ball given.", IF(plan_yarn, has_ball)},
    {"parts", OBJECT(plan_yarn, use_m, parts), ANY, "Where the metres go, all pieces."},
    {"each_m", AT(plan_yarn, each_m), FROM_0, "Yarn used in one piece, metres; the swatch belongs to none."},
    {"parts_each", OBJECT(plan_yarn, each_use_m, parts), ANY, "Where they go in one piece."},
    {"swatch_m", AT(plan_yarn, swatch_m), FROM_0, "Yarn the swatch takes, metres, whether it is counted or not."},
    {"carry", OBJECT(plan_yarn, carry, carry), ANY, "A yarn that waits, one piece."},
    {0}}};

const struct json_table yarn_short_table = {ON_A_LINE, ROWS{
    {"yarn", AT(plan_yarn, name), ANY, "The yarn."},
    {"length_m", AT(plan_yarn, length_m), FROM_0,
     "Yarn used, metres, all pieces, before margin: stitch_m + float_m + catch_m + other_m."},
    {"grams", AT(plan_yarn, grams), FROM_0 | OR_NULL, "Weight of length_m, grams. null: no ball given."},
    {"balls", AT(plan_yarn, margin_balls), FROM_0 | OR_NULL,
     "Whole balls to buy, margin and joins included, a count. null: no ball given, or one no longer than a join.",
     WHEN(can_be_counted)},
    {"catches", AT(plan_yarn, catches), FROM_0, "Catches of its strand, all pieces."},
    {0}}, "yarn_short"};

/* --- strand or sew on; ground and pattern exchanged ----------------------------------------- */

static const struct json_table way = {ON_A_LINE, ROWS{
    {"own_m", AT(plan_duplicate_way, own_m), FROM_0, "Yarn of the colour in those rows, metres."},
    {"all_m", AT(plan_duplicate_way, all_m), FROM_0, "Yarn of all colours in those rows, metres."},
    {"catches", AT(plan_duplicate_way, catches), FROM_0, "Fewest catches in those rows."},
    {"rows_three_colours", AT(plan_duplicate_way, rows_three), FROM_0,
     "Of those rows, how many are worked with three colours or more."},
    {"hours", AT(plan_duplicate_way, hours), FROM_0, "Time for those rows, hours."},
    {0}}, "duplicate_way"};

static const struct json_table duplicate_row = {ON_LINES, ROWS{
    {"row", NUMBERED(plan_duplicate_row, row), FROM_1, "Row of the chart, from 1."},
    {"under", YARN(plan_duplicate_row, under), ANY, "Yarn knitted under the stitches sewn on."},
    {"stitches", AT(plan_duplicate_row, stitches), FROM_1, "Stitches of the colour."},
    {"stranded", OBJECT(plan_duplicate_row, stranded, way), ANY, "Stranded."},
    {"sewn", OBJECT(plan_duplicate_row, sewn, way), ANY,
     "Sewn on; travel, tails and the ends' time are in sewn_apart alone."},
    {0}}};

static const struct json_table saved = {ON_A_LINE, ROWS{
    {"yarn_m", AT(plan_duplicate, saved_m), ANY, "Yarn of all colours, metres."},
    {"catches", AT(plan_duplicate, saved_catches), ANY, "Catches."},
    {"rows_three_colours", AT(plan_duplicate, saved_rows_three), ANY, "Rows of three colours or more."},
    {"hours", AT(plan_duplicate, saved_hours), ANY, "Time, hours."},
    {0}}};

static const char *const verdict_words[] = {
    [DUPLICATE_STRAND] = "strand", [DUPLICATE_SEW] = "sew on", [DUPLICATE_EITHER] = "either"};

const struct json_table duplicate_table = {ON_LINES, ROWS{
    {"band", BAND(plan_duplicate, band), OR_NULL, "Name of the band. null: all of them."},
    {"yarn", YARN(plan_duplicate, yarn), ANY, "The colour."},
    {"sewn_now", AT(plan_duplicate, sewn_now), ANY, "Whether the project has it sewn on."},
    {"all_rows", AT(plan_duplicate, all_rows), ANY,
     "Whether these are all the rows of the band with that colour."},
    {"stitches", AT(plan_duplicate, stitches), FROM_0, "Its stitches in those rows."},
    {"spots", AT(plan_duplicate, spots), FROM_0, "Separate spots they would be sewn in."},
    {"stranded", OBJECT(plan_duplicate, stranded, way), ANY, "Stranded with the rest."},
    {"sewn", OBJECT(plan_duplicate, sewn, way), ANY,
     "Sewn on over what is knitted in its place, travel and tails included."},
    {"stranded_apart", OBJECT(plan_duplicate, stranded_apart, way), ANY,
     "Of stranded, what belongs to no row: waits, tails, selvedge and steek that are not needed where it is sewn "
     "on."},
    {"sewn_apart", OBJECT(plan_duplicate, sewn_apart, way), ANY,
     "Of sewn, what belongs to no row: travel, tails and ends of the spots; waits, tails, selvedge and steek "
     "that are not needed where it is stranded."},
    {"saved", SAME(saved), ANY, "Stranded less sewn: what sewing it on saves. Below 0: what it costs."},
    {"verdict", WORD(plan_duplicate, verdict, verdict_words), ANY,
     "Which is quicker; either: too little lies between."},
    {"said", AT(plan_duplicate, notable), ANY, "Whether the printed plan gives these figures."},
    {"rows", LIST(plan_duplicate, rows, nrows, duplicate_row), ANY,
     "Row by row; with stranded_apart and sewn_apart the rows add up to stranded and sewn.",
     .each = "One row of the chart."},
    {0}}, "duplicate",
    "All figures for all copies in all pieces."};

static void write_bands(struct json *json, const char *key, const struct json_at *at)
{
    const struct plan_exchanged *exchanged = at->object;

    json_array_open(json, key);
    for (int i = 0; i < exchanged->nbands; i++)
        json_string(json, NULL, json->plan->piece.bands[exchanged->bands[i].band].name);
    json_array_close(json);
}

/* Of the plan, in which that stands. */
static int yarns_of_piece(const struct json_at *at)
{
    return ((const struct plan *)at->up->object)->piece.nyarns;
}

static const struct json_table pair = {ON_A_LINE, ROWS{
    {"band", BAND(plan_exchanged_band, band), ANY, "Name of the band."},
    {"ground", YARN(plan_exchanged_band, ground), ANY, "The yarn of most stitches; of equal ones the first."},
    {"pattern", YARN(plan_exchanged_band, pattern), ANY, "The yarn of most stitches but that."},
    {0}}};

const struct json_table exchanged_table = {ON_LINES, ROWS{
    {"bands", VALUES(JSON_STRING, write_bands), ANY, "Bands in which it is done.", .each = "Name of the band."},
    {"pairs", LIST(plan_exchanged, bands, nbands, pair), ANY,
     "Which yarns they are, band by band.", .each = "One band."},
    {"yarn", LIST_BY(plan_exchanged, yarns, yarns_of_piece, yarn_short_table), ANY,
     "What each yarn then comes to, all pieces.", .each = "One yarn."},
    {0}}};

/* --- swatches, close calls -------------------------------------------------------------------- */

static const char *const fabric_words[] = {"stranded", "plain"};

const struct json_table swatch_table = {ON_A_LINE, ROWS{
    {"fabric", WORD(plan_swatch, plain, fabric_words), ANY, "What it was knitted in."},
    {"side_inches", AT(plan_swatch, side_in), OVER_0 | OR_NULL,
     "Length of each side, borders included, inches. null: the stitches that were weighed."},
    {"taken", AT(plan_swatch, taken), ANY, "Whether the border was taken, since no size was given."},
    {0}}};

const struct json_table swatch_ripped_table = {ON_A_LINE, ROWS{
    {"yarn", AT(plan_yarn, name), ANY, "The yarn."},
    {"balls_saved", AT(plan_yarn, swatch_balls), FROM_1, "Balls fewer, a count."},
    {0}}};

static const char *const change_words[] = {
    [CHANGE_ROUNDS] = "fewer rounds", [CHANGE_UPWARDS] = "once less upwards",
    [CHANGE_REPEATS] = "one repeat less", [CHANGE_CAST_ON] = "cast-on in another yarn",
    [CHANGE_BIND_OFF] = "bind-off in another yarn", [CHANGE_SWATCH] = "swatch ripped"};

const struct json_table change_table = {ON_A_LINE, ROWS{
    {"yarn", YARN(plan_change, yarn), ANY, "The yarn whose close call it is."},
    {"change", WORD(plan_change, kind, change_words), ANY, "What is done."},
    {"step", NUMBERED(plan_change, step), FROM_1 | OR_NULL,
     "In this step of `steps`, from 1. null: an edge or the swatch."},
    {"rounds", AT(plan_change, rounds), FROM_1 | OR_NULL,
     "Rounds or rows fewer in each piece, the fewest that do. null: another change."},
    {"stitches", AT(plan_change, stitches), FROM_1 | OR_NULL,
     "Stitches of the band with a repeat less. null: another change."},
    {"finished_in", AT(plan_change, finished_in), OVER_0 | OR_NULL,
     "How wide, or round, the band comes out then, inches. null: another change."},
    {"in_yarn", YARN(plan_change, other), OR_NULL,
     "The yarn the edge (a cast-on with its rib) is worked in instead. null: another change."},
    {"saved_m", AT(plan_change, saved_m), FROM_0, "Saved of the yarn, all pieces, metres."},
    {"balls", AT(plan_change, buy.balls), FROM_0, "Balls to buy then, a count."},
    {"last_ball_used_part", AT(plan_change, buy.last_used), PART,
     "Part of the last ball that is used then, 0 to 1."},
    {0}}};

const struct json_table odd_ball_table = {ON_A_LINE, ROWS{
    {"yarn", AT(plan_yarn, name), ANY, "The yarn."},
    {"bands", BANDS(plan_yarn, hide_bands), ANY, "Names of the bands.", .each = "A band."},
    {0}}};
