/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What should be left after each step, and by when.
 */
#include "sections.h"

void json_weighing(struct json *json, const struct plan_piece *piece,
                   const struct plan_weighing *weighing)
{
    json_line_open(json, NULL);
    json_whole(json, "piece", weighing->piece);
    json_whole(json, "step", weighing->step + 1);
    json_whole_or_null(json, "time", weighing->time, weighing->time > 0);
    json_array_open(json, "left_g");
    for (int i = 0; i < piece->nyarns; i++)
        json_number(json, NULL, weighing->left_g[i]);
    json_array_close(json);
    json_object_close(json);
}

static void write_by(struct json *json, const struct plan_piece *piece,
                     const struct plan_weigh_by *by)
{
    json_line_open(json, NULL);
    json_string(json, "yarn", json_yarn_name(piece, by->yarn));
    json_whole(json, "piece", by->piece);
    json_whole(json, "step", by->step + 1);
    json_whole_or_null(json, "time", by->time, by->time > 0);
    json_whole_or_null(json, "row", by->row, by->row > 0);
    json_number(json, "rest_g", by->rest_g);
    json_number(json, "need_g", by->need_g);
    json_object_close(json);
}

void json_weigh_in(struct json *json, const struct plan *plan)
{
    json_array_open(json, "weigh_in");
    for (int i = 0; i < plan->nweighings; i++)
        json_weighing(json, &plan->piece, &plan->weighings[i]);
    json_array_close(json);
    json_array_open(json, "weigh_by");
    for (int i = 0; i < plan->nweigh_by; i++)
        write_by(json, &plan->piece, &plan->weigh_by[i]);
    json_array_close(json);
}
