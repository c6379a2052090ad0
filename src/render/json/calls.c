/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What would put a close call right, and where an odd ball hardly shows.
 */
#include <math.h>

#include "sections.h"

static const char *change_word(enum change_kind kind)
{
    switch (kind) {
    case CHANGE_ROUNDS:
        return "fewer rounds";
    case CHANGE_UPWARDS:
        return "once less upwards";
    case CHANGE_REPEATS:
        return "one repeat less";
    case CHANGE_SWATCH:
        return "swatch ripped";
    case CHANGE_CAST_ON:
        return "cast-on in another yarn";
    case CHANGE_BIND_OFF:
        break;
    }
    return "bind-off in another yarn";
}

static void write_change(struct json *json, const struct plan_piece *piece,
                         const struct plan_change *change)
{
    json_line_open(json, NULL);
    json_string(json, "yarn", json_yarn_name(piece, change->yarn));
    json_string(json, "change", change_word(change->kind));
    json_whole_or_null(json, "step", change->step + 1, change->step >= 0);
    json_whole_or_null(json, "rounds", change->rounds, change->kind == CHANGE_ROUNDS);
    json_whole_or_null(json, "stitches", change->stitches, change->kind == CHANGE_REPEATS);
    json_number(json, "finished_in",
                change->kind == CHANGE_REPEATS ? change->finished_in : (double)NAN);
    json_string(json, "in_yarn", json_yarn_name(piece, change->other));
    json_number(json, "saved_m", change->saved_m);
    json_whole(json, "balls", change->buy.balls);
    json_number(json, "last_ball_used_part", change->buy.last_used);
    json_object_close(json);
}

static void write_odd(struct json *json, const struct plan_piece *piece,
                      const struct plan_yarn *yarn)
{
    json_line_open(json, NULL);
    json_string(json, "yarn", yarn->name);
    json_array_open(json, "bands");
    for (int i = 0; i < piece->nbands; i++)
        if (yarn->hide_bands >> i & 1)
            json_string(json, NULL, piece->bands[i].name);
    json_array_close(json);
    json_object_close(json);
}

void json_calls(struct json *json, const struct plan *plan)
{
    json_array_open(json, "changes");
    for (int i = 0; i < plan->nchanges; i++)
        write_change(json, &plan->piece, &plan->changes[i]);
    json_array_close(json);
    json_array_open(json, "odd_balls");
    for (int i = 0; i < plan->piece.nyarns; i++)
        if (plan->piece.yarns[i].hide_bands)
            write_odd(json, &plan->piece, &plan->piece.yarns[i]);
    json_array_close(json);
}
