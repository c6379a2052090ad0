/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What the scale said on the way, and what that moves.
 */
#include "sections.h"

static const char *verdict_word(enum weighed_verdict verdict)
{
    switch (verdict) {
    case WEIGHED_NOTHING:
        return "says nothing";
    case WEIGHED_WITHIN:
        break;
    case WEIGHED_MORE:
        return "more";
    case WEIGHED_LESS:
        return "less";
    case WEIGHED_FAR_MORE:
        return "far more";
    case WEIGHED_FAR_LESS:
        return "far less";
    }
    return "within";
}

static void write_reading(struct json *json, const struct plan_piece *piece,
                          const struct plan_weighed_reading *reading)
{
    json_line_open(json, NULL);
    json_whole(json, "weighing", reading->number);
    json_string(json, "yarn", json_yarn_name(piece, reading->yarn));
    json_whole(json, "piece", reading->piece);
    json_whole(json, "step", reading->step + 1);
    json_whole_or_null(json, "time", reading->time, reading->time > 0);
    json_number(json, "weighed_g", reading->weighed_g);
    json_number(json, "should_g", reading->should_g);
    json_number(json, "reckoned_g", reading->reckoned_g);
    json_number(json, "used_g", reading->used_g);
    json_number(json, "off_part", reading->off_part);
    json_number(json, "explained_part", reading->explained_part);
    json_string(json, "verdict", verdict_word(reading->verdict));
    json_object_close(json);
}

static const char *call_word(enum close_call call)
{
    switch (call) {
    case CALL_NEARLY_USED:
        return "nearly used";
    case CALL_HARDLY_TOUCHED:
        return "hardly touched";
    case CALL_NONE:
        break;
    }
    return NULL;
}

static void write_outlook(struct json *json, const char *key, const struct plan_outlook *outlook)
{
    json_line_open(json, key);
    json_number(json, "rest_g", outlook->rest_g);
    json_number(json, "rest_m", outlook->rest_m);
    json_number(json, "low_m", outlook->low_m);
    json_number(json, "high_m", outlook->high_m);
    json_number(json, "length_m", outlook->length_m);
    json_number(json, "chance", outlook->chance);
    json_whole(json, "balls", outlook->buy.balls);
    json_number(json, "last_used_part", outlook->buy.last_used);
    json_string(json, "close_call", call_word(outlook->close_call));
    json_whole(json, "more_balls", outlook->more_balls);
    json_number(json, "more_chance", outlook->more_chance);
    json_number(json, "weigh_by_need_g", outlook->by_need_g);
    json_object_close(json);
}

static void write_out(struct json *json, const struct plan_weighed_yarn *yarn)
{
    if (!yarn->runs_out) {
        json_null(json, "runs_out");
        return;
    }
    json_line_open(json, "runs_out");
    json_whole(json, "piece", yarn->out.piece);
    json_whole(json, "step", yarn->out.step + 1);
    json_whole_or_null(json, "time", yarn->out.time, yarn->out.time > 0);
    json_whole_or_null(json, "row", yarn->out.row, yarn->out.row > 0);
    json_object_close(json);
}

static void write_yarn(struct json *json, const struct plan_piece *piece,
                       const struct plan_weighed_yarn *yarn)
{
    json_object_open(json, NULL);
    json_string(json, "yarn", json_yarn_name(piece, yarn->yarn));
    json_bool(json, "weighed", yarn->weighed);
    json_whole(json, "piece", yarn->piece);
    json_whole(json, "step", yarn->step + 1);
    json_whole_or_null(json, "time", yarn->time, yarn->time > 0);
    json_number(json, "start_g", yarn->start_g);
    json_string(json, "start_from", yarn->start_weighed ? "scale" : "bands");
    json_number(json, "start_bands_g", yarn->start_band_g);
    json_number(json, "left_g", yarn->left_g);
    json_number(json, "factor", yarn->factor);
    write_outlook(json, "before", &yarn->before);
    write_outlook(json, "after", &yarn->after);
    write_out(json, yarn);
    json_object_close(json);
}

void json_weighed(struct json *json, const struct plan *plan)
{
    const struct plan_weighed *weighed = plan->weighed;

    if (!weighed)
        return;
    json_object_open(json, "weighed");
    json_number(json, "scale_step_g", weighed->scale_step_g);
    json_number(json, "excess", weighed->excess);
    json_array_open(json, "readings");
    for (int i = 0; i < weighed->nreadings; i++)
        write_reading(json, &plan->piece, &weighed->readings[i]);
    json_array_close(json);
    json_array_open(json, "yarns");
    for (int i = 0; i < weighed->nyarns; i++)
        write_yarn(json, &plan->piece, &weighed->yarns[i]);
    json_array_close(json);
    json_array_open(json, "ahead");
    for (int i = 0; i < weighed->nahead; i++)
        json_weighing(json, &plan->piece, &weighed->ahead[i]);
    json_array_close(json);
    json_object_close(json);
}
