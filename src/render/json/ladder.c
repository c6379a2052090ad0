/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The same piece otherwise: in other sizes, and from fine yarn to heavy.
 */
#include "sections.h"

static void write_step(struct json *json, const struct plan *plan,
                       const struct plan_ladder_step *step)
{
    json_line_open(json, NULL);
    json_string(json, "band", plan->piece.bands[step->band].name);
    json_number(json, "to_stitches_per_inch", step->to_per_in);
    json_number(json, "from_stitches_per_inch", step->from_per_in);
    json_whole(json, "catches_fewest", step->catches);
    json_bool(json, "own", step->own);
    json_object_close(json);
}

void json_ladder(struct json *json, const struct plan *plan)
{
    const struct plan_ladder *ladder = plan->ladder;

    if (!ladder) {
        json_null(json, "ladder");
        return;
    }
    json_object_open(json, "ladder");
    json_bool(json, "by_yarn_weight", ladder->by_weight);
    json_bool(json, "own_gauge_known", ladder->own_known);
    json_bool(json, "counts_left_out", ladder->counts_left_out);
    json_whole_or_null(json, "first_longer", ladder->first_longer, ladder->first_longer >= 0);
    json_array_open(json, "rungs");
    for (int i = 0; i < ladder->nrungs; i++) {
        json_object_open(json, NULL);
        json_bool(json, "own", ladder->rungs[i].own);
        json_try(json, "at", &ladder->rungs[i].at);
        json_object_close(json);
    }
    json_array_close(json);
    json_array_open(json, "steps");
    for (int i = 0; i < ladder->nsteps; i++)
        write_step(json, plan, &ladder->steps[i]);
    json_array_close(json);
    json_object_close(json);
}

void json_sizes(struct json *json, const struct plan *plan)
{
    json_array_open(json, "sizes");
    for (int i = 0; i < plan->nsizes; i++) {
        json_object_open(json, NULL);
        json_number(json, "measure_inches", plan->sizes[i].measure_in);
        json_bool(json, "own", plan->sizes[i].own);
        if (plan->sizes[i].same_as >= 0)
            json_string(json, "same_as", plan->sizes[plan->sizes[i].same_as].at.name);
        else
            json_null(json, "same_as");
        json_try(json, "at", &plan->sizes[i].at);
        json_object_close(json);
    }
    json_array_close(json);
}
