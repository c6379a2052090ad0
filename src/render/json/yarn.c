/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <stdio.h>

#include "sections.h"

const char *json_yarn_name(const struct plan_piece *piece, int yarn)
{
    return yarn >= 0 && yarn < piece->nyarns ? piece->yarns[yarn].name : NULL;
}

static const char *use_key(enum yarn_use use)
{
    switch (use) {
    case USE_STITCHES:
        return "stitches_m";
    case USE_FLOATS:
        return "floats_m";
    case USE_CATCHES:
        return "catches_m";
    case USE_CAST_ON:
        return "cast_on_m";
    case USE_RIB:
        return "rib_m";
    case USE_PLAIN:
        return "plain_m";
    case USE_SELVEDGE:
        return "selvedge_m";
    case USE_STEEK:
        return "steek_m";
    case USE_BIND_OFF:
        return "bind_off_m";
    case USE_SEAM:
        return "seam_m";
    case USE_CARRIED:
        return "carried_m";
    case USE_TAILS:
        return "tails_m";
    case USE_DUPLICATE:
        return "duplicate_m";
    case USE_SWATCH:
        return "swatch_m";
    case USE_COUNT:
        break;
    }
    return "other";
}

static const char *close_call_word(enum close_call call)
{
    switch (call) {
    case CALL_NONE:
        break;
    case CALL_NEARLY_USED:
        return "last ball nearly used up";
    case CALL_HARDLY_TOUCHED:
        return "last ball hardly touched";
    }
    return NULL;
}

const char *json_method_word(enum loop_method method)
{
    switch (method) {
    case LOOP_FROM_TWO_YARNS:
        return "stranded row unravelled";
    case LOOP_FROM_PLAIN_ROW:
        return "plain row unravelled";
    case LOOP_FROM_MARKED:
        return "marked length";
    case LOOP_FROM_WEIGHT:
        return "swatch weighed";
    case LOOP_FROM_BALL:
        return "ball weighed";
    case LOOP_FROM_SEVERAL:
        return "several measurements";
    case LOOP_FROM_GAUGE:
        break;
    }
    return "gauge";
}

/* The likely range, and what it rests on. */
static void write_likely(struct json *json, const struct plan_loop *loop,
                         const struct plan_yarn *yarn)
{
    const struct plan_likely *likely = &yarn->likely;

    json_number(json, "low_m", likely->low_m);
    json_number(json, "high_m", likely->high_m);
    json_string(json, "method", json_method_word(loop->method));
    json_number(json, "loop_mm", yarn->loop_mm);
    json_number(json, "slack_ratio", loop->slack_ratio);
    json_array_open(json, "enough");
    for (int i = 0; i < likely->nenough; i++) {
        json_line_open(json, NULL);
        json_whole(json, "balls", likely->enough[i].balls);
        json_number(json, "chance", likely->enough[i].chance);
        json_object_close(json);
    }
    json_array_close(json);
}

static void write_parts(struct json *json, const char *key, const double use_m[USE_COUNT])
{
    json_object_open(json, key);
    for (int use = 0; use < USE_COUNT; use++)
        json_number(json, use_key((enum yarn_use)use), use_m[use]);
    json_object_close(json);
}

/* Length, weight, balls: what both the long and the short form say. */
static void write_amount(struct json *json, const struct plan_yarn *yarn)
{
    json_number(json, "length_m", yarn->length_m);
    if (yarn->has_ball)
        json_number(json, "grams", yarn->grams);
    else
        json_null(json, "grams");
    json_whole_or_null(json, "balls", yarn->margin_balls, yarn->has_ball && !yarn->beyond_count);
}

static void write_buying(struct json *json, const struct plan_yarn *yarn)
{
    if (!yarn->has_ball) {
        json_null(json, "buy");
        return;
    }
    json_line_open(json, "buy");
    json_number(json, "ball_g", yarn->ball_g);
    json_number(json, "band_m", yarn->band_m);
    json_number(json, "ball_m", yarn->ball_m);
    json_number(json, "have_m", yarn->have_m);
    json_whole(json, "balls_to_buy", yarn->buy.balls);
    json_bool(json, "have_enough", yarn->have_enough);
    json_number(json, "need_m", yarn->need_m);
    json_number(json, "left_m", yarn->buy.left_m);
    json_number(json, "last_ball_used_part", yarn->buy.last_used);
    json_string(json, "close_call", close_call_word(yarn->close_call));
    json_number(json, "low_m", yarn->likely.buy_low_m);
    json_number(json, "high_m", yarn->likely.buy_high_m);
    json_number(json, "chance", yarn->likely.margin_chance);
    json_number(json, "confidence", yarn->likely.confidence);
    json_whole(json, "sure_balls", yarn->likely.sure_balls);
    json_number(json, "sure_chance", yarn->likely.sure_chance);
    json_number(json, "more_chance", yarn->likely.more_chance);
    json_object_close(json);
}

static void write_carry(struct json *json, const struct carry_tally *carry)
{
    json_line_open(json, "carry");
    json_whole(json, "waits", carry->waits);
    json_whole(json, "carried_rows", carry->carried_rows);
    json_number(json, "carried_mm", carry->carried_mm);
    json_whole(json, "longest_wait_rows", carry->longest_wait_rows);
    json_whole(json, "cuts", carry->cuts);
    json_whole(json, "ends", carry->ends);
    json_object_close(json);
}

static void write_colour(struct json *json, const struct plan_yarn *yarn)
{
    char shade[sizeof "#rrggbb"];

    json_string(json, "mark", yarn->mark && *yarn->mark ? yarn->mark : NULL);
    snprintf(shade, sizeof shade, "#%02x%02x%02x", yarn->rgb[0], yarn->rgb[1], yarn->rgb[2]);
    json_string(json, "shade", yarn->shade_given ? shade : NULL);
}

static void write_yarn(struct json *json, const struct plan_piece *piece,
                       const struct plan_yarn *yarn)
{
    json_object_open(json, NULL);
    json_string(json, "yarn", yarn->name);
    write_colour(json, yarn);
    json_bool(json, "used", yarn->used);
    json_bool(json, "knitted", yarn->knitted);
    json_string(json, "sewn_over", json_yarn_name(piece, yarn->over));
    json_whole(json, "stitches", yarn->stitches);
    json_whole(json, "float_stitches", yarn->float_stitches);
    json_whole(json, "duplicate_stitches", yarn->duplicate_stitches);
    json_whole(json, "duplicate_spots", yarn->duplicate_spots);
    json_whole(json, "catches", yarn->catches);
    json_whole(json, "spares", yarn->spares);
    json_number(json, "stitch_m", yarn->stitch_m);
    json_number(json, "float_m", yarn->float_m);
    json_number(json, "catch_m", yarn->catch_m);
    json_number(json, "other_m", yarn->other_m);
    write_amount(json, yarn);
    json_number(json, "margin_part", yarn->margin);
    write_likely(json, &piece->loop, yarn);
    write_buying(json, yarn);
    write_parts(json, "parts", yarn->use_m);
    json_number(json, "each_m", yarn->each_m);
    write_parts(json, "parts_each", yarn->each_use_m);
    json_number(json, "swatch_m", yarn->swatch_m);
    write_carry(json, &yarn->carry);
    json_object_close(json);
}

void json_yarns(struct json *json, const struct plan_piece *piece)
{
    json_array_open(json, "yarn");
    for (int i = 0; i < piece->nyarns; i++)
        write_yarn(json, piece, &piece->yarns[i]);
    json_array_close(json);
}

void json_yarns_short(struct json *json, const struct plan_yarn *yarns, int nyarns)
{
    json_array_open(json, "yarn");
    for (int i = 0; i < nyarns; i++) {
        json_line_open(json, NULL);
        json_string(json, "yarn", yarns[i].name);
        write_amount(json, &yarns[i]);
        json_whole(json, "catches", yarns[i].catches);
        json_object_close(json);
    }
    json_array_close(json);
}
