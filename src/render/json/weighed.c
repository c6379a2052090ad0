/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What should be left after each step, and by when; what the scale said on the way, and what that moves. Steps as in
 * `steps`, from 1; 0: before the first; one more than there are: all sewn.
 */
#include "tables.h"

static void write_left(struct json *json, const char *key, const struct json_at *at)
{
    const struct plan_weighing *weighing = at->object;

    json_array_open(json, key);
    for (int i = 0; i < json->plan->piece.nyarns; i++)
        json_number(json, NULL, weighing->left_g[i]);
    json_array_close(json);
}

const struct json_table weighing_table = {ON_A_LINE, ROWS{
    {"piece", AT(plan_weighing, piece), FROM_1, "Number of the piece, from 1."},
    {"step", NUMBERED(plan_weighing, step), FROM_0,
     "After this step of `steps`, from 1; 0: at the start; one more than there are: all sewn, or the whole "
     "piece."},
    {"time", AT(plan_weighing, time), FROM_1 | OR_NULL,
     "After this time of a band worked several times upwards, from 1. null: the whole step."},
    {"left_g", VALUES(JSON_DOUBLE, write_left), OR_NULL,
     "Left of each yarn, in the order of `yarn`, all its balls together, grams; below 0: short. null: no ball "
     "known.", .each = "Grams."},
    {0}}};

const struct json_table weigh_by_table = {ON_A_LINE, ROWS{
    {"yarn", YARN(plan_weigh_by, yarn), ANY, "The yarn."},
    {"piece", AT(plan_weigh_by, piece), FROM_1, "Number of the piece, from 1."},
    {"step", NUMBERED(plan_weigh_by, step), FROM_1,
     "In this step of `steps`, from 1; one more than there are: sewing."},
    {"time", AT(plan_weigh_by, time), FROM_1 | OR_NULL,
     "In this time of a band worked several times upwards, from 1. null: once only."},
    {"row", AT(plan_weigh_by, row), FROM_1 | OR_NULL,
     "Before this row of the chart, or of the part, from 1. null: before the step."},
    {"rest_g", AT(plan_weigh_by, rest_g), FROM_0, "What the rest takes as reckoned, grams."},
    {"need_g", AT(plan_weigh_by, need_g), FROM_0,
     "What must be left so that it is enough 19 times in 20, grams: the upper end of the likely range."},
    {0}}};

/* --- weighed on the way ----------------------------------------------------------------------- */

static const char *const verdict_words[] = {
    [WEIGHED_NOTHING] = "says nothing", [WEIGHED_WITHIN] = "within", [WEIGHED_MORE] = "more",
    [WEIGHED_LESS] = "less", [WEIGHED_FAR_MORE] = "far more", [WEIGHED_FAR_LESS] = "far less"};

static const struct json_table reading = {ON_A_LINE, ROWS{
    {"weighing", AT(plan_weighed_reading, number), FROM_1, "Its number in the project file."},
    {"yarn", YARN(plan_weighed_reading, yarn), ANY, "The yarn."},
    {"piece", AT(plan_weighed_reading, piece), FROM_1, "Number of the piece, from 1."},
    {"step", NUMBERED(plan_weighed_reading, step), FROM_0,
     "After this step of `steps`, from 1; 0: at the start; one more than there are: the whole piece."},
    {"time", AT(plan_weighed_reading, time), FROM_1 | OR_NULL,
     "After this time of a band worked several times upwards, from 1. null: the whole step."},
    {"weighed_g", AT(plan_weighed_reading, weighed_g), FROM_0, "Weighed, without what is no yarn, grams."},
    {"should_g", AT(plan_weighed_reading, should_g), ANY,
     "What should have been left by the plan, from what it began with, grams."},
    {"reckoned_g", AT(plan_weighed_reading, reckoned_g), FROM_0,
     "To be used since it was weighed before, by the plan, grams."},
    {"used_g", AT(plan_weighed_reading, used_g), ANY, "Used since then, by the scale, grams."},
    {"off_part", AT(plan_weighed_reading, off_part), OR_NULL,
     "used_g / reckoned_g - 1. null: too little was reckoned."},
    {"explained_part", AT(plan_weighed_reading, explained_part), OR_NULL,
     "How far off scale, start, swatch and hands explain nine times in ten, as a part of reckoned_g. null: too "
     "little was reckoned."},
    {"verdict", WORD(plan_weighed_reading, verdict, verdict_words), ANY,
     "Against that; far: over 30 % off, and something else is looked for."},
    {0}}};

static const char *const call_words[] = {
    [CALL_NONE] = NULL, [CALL_NEARLY_USED] = "nearly used", [CALL_HARDLY_TOUCHED] = "hardly touched"};

static const struct json_table outlook = {ON_A_LINE, ROWS{
    {"rest_g", AT(plan_outlook, rest_g), ANY, "Still to be knitted, grams by the band."},
    {"rest_m", AT(plan_outlook, rest_m), ANY, "The same, metres by the band."},
    {"low_m", AT(plan_outlook, low_m), ANY, "Lower end of it, nine times in ten, metres."},
    {"high_m", AT(plan_outlook, high_m), ANY, "Upper end of it, metres."},
    {"length_m", AT(plan_outlook, length_m), ANY,
     "All of it, metres: before, as planned; after, what was used and what is still to be knitted."},
    {"chance", AT(plan_outlook, chance), PART, "That what is left is enough."},
    {"balls", AT(plan_outlook, buy.balls), FROM_0,
     "Balls in all, beside what was in hand: before, as planned; after, with the margin on what is still to be "
     "knitted."},
    {"last_used_part", AT(plan_outlook, buy.last_used), ANY, "Used of the last of them."},
    {"close_call", WORD(plan_outlook, close_call, call_words), ANY,
     "Whether that is a close call. null: it is not."},
    {"more_balls", AT(plan_outlook, more_balls), FROM_0,
     "Balls to be bought besides what is left, for the confidence asked for."},
    {"more_chance", AT(plan_outlook, more_chance), PART, "That it is enough with those."},
    {"weigh_by_need_g", AT(plan_outlook, by_need_g), OR_NULL,
     "What must be left at its place of `weigh_by`, grams. null: none, or it is past."},
    {0}}, "outlook",
    "A yarn from when it was last weighed to the end."};

static const struct json_table runs_out = {ON_A_LINE, ROWS{
    {"piece", AT(plan_weigh_by, piece), FROM_1, "Number of the piece, from 1."},
    {"step", NUMBERED(plan_weigh_by, step), FROM_1, "In this step of `steps`, from 1."},
    {"time", AT(plan_weigh_by, time), FROM_1 | OR_NULL,
     "In this time of a band worked several times upwards, from 1. null: once only."},
    {"row", AT(plan_weigh_by, row), FROM_1 | OR_NULL,
     "In this row of the chart, or of the part, from 1. null: somewhere in the step."},
    {0}}};

static const char *const start_words[] = {"bands", "scale"};

static const struct json_table weighed_yarn = {ON_LINES, ROWS{
    {"yarn", YARN(plan_weighed_yarn, yarn), ANY, "The yarn."},
    {"weighed", AT(plan_weighed_yarn, weighed), ANY,
     "Whether it was weighed after the start; if not, the other yarns tell of the hands, and all of it is still "
     "to be knitted."},
    {"piece", AT(plan_weighed_yarn, piece), FROM_1, "Number of the piece, from 1."},
    {"step", NUMBERED(plan_weighed_yarn, step), FROM_0,
     "After this step of `steps`, from 1; 0: at the start; one more than there are: the whole piece."},
    {"time", AT(plan_weighed_yarn, time), FROM_1 | OR_NULL,
     "After this time of a band worked several times upwards, from 1. null: the whole step."},
    {"start_g", AT(plan_weighed_yarn, start_g), FROM_0, "What it began with, grams."},
    {"start_from", WORD(plan_weighed_yarn, start_weighed, start_words), ANY, "Where that is from."},
    {"start_bands_g", AT(plan_weighed_yarn, start_band_g), ANY, "The same by the bands and the plan, grams."},
    {"left_g", AT(plan_weighed_yarn, left_g), ANY, "Left when last weighed, grams."},
    {"factor", AT(plan_weighed_yarn, factor), ANY, "What is still to be knitted, after / before."},
    {"before", OBJECT(plan_weighed_yarn, before, outlook), ANY, "By the swatch alone."},
    {"after", OBJECT(plan_weighed_yarn, after, outlook), ANY, "By the weighings as well."},
    {"runs_out", OBJECT(plan_weighed_yarn, out, runs_out), OR_NULL,
     "About where it would run out. null: it is likelier that it does not.", IF(plan_weighed_yarn, runs_out)},
    {0}}};

static const struct json_table weighing_ahead = {ON_A_LINE, ROWS{
    {"piece", AT(plan_weighing, piece), FROM_1, "Number of the piece, from 1."},
    {"step", NUMBERED(plan_weighing, step), FROM_0,
     "After this step of `steps`, from 1; 0: at the start; one more than there are: the whole piece."},
    {"time", AT(plan_weighing, time), FROM_1 | OR_NULL,
     "After this time of a band worked several times upwards, from 1. null: the whole step."},
    {"left_g", VALUES(JSON_DOUBLE, write_left), OR_NULL,
     "Left of each yarn, in the order of `yarn`, grams; below 0: short. null: not used, or no ball known.",
     .each = "Grams."},
    {0}}};

const struct json_table weighed_table = {ON_LINES, ROWS{
    {"scale_step_g", AT(plan_weighed, scale_step_g), OVER_0, "What the scale counts in, grams."},
    {"excess", AT(plan_weighed, excess), FROM_1,
     "How many times wider the variances are taken because the weighings differ among themselves; else 1."},
    {"readings", LIST(plan_weighed, readings, nreadings, reading), ANY,
     "What each yarn weighed, in order of knitting.", .each = "One yarn at one weighing."},
    {"yarns", LIST(plan_weighed, yarns, nyarns, weighed_yarn), ANY,
     "Each yarn used that has a ball, from when it was last weighed to the end.", .each = "One yarn."},
    {"ahead", LIST(plan_weighed, ahead, nahead, weighing_ahead), ANY,
     "What should be left from here on: after each step of the piece in hand (of the next where that is done), "
     "then after each further piece.", .each = "One weighing to come."},
    {0}}};
