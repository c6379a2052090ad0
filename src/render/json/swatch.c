/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The swatches as their yarn is reckoned, and what ripping them would save.
 */
#include <math.h>

#include "sections.h"

void json_swatches(struct json *json, const struct plan *plan)
{
    json_array_open(json, "swatches");
    for (int i = 0; i < plan->nswatches; i++) {
        const struct plan_swatch *swatch = &plan->swatches[i];

        json_line_open(json, NULL);
        json_string(json, "fabric", swatch->plain ? "plain" : "stranded");
        json_number(json, "side_inches", swatch->side_in > 0.0 ? swatch->side_in : (double)NAN);
        json_bool(json, "taken", swatch->taken);
        json_object_close(json);
    }
    json_array_close(json);
    json_array_open(json, "swatch_ripped");
    for (int i = 0; i < plan->piece.nyarns; i++)
        if (plan->piece.yarns[i].swatch_balls > 0) {
            json_line_open(json, NULL);
            json_string(json, "yarn", plan->piece.yarns[i].name);
            json_whole(json, "balls_saved", plan->piece.yarns[i].swatch_balls);
            json_object_close(json);
        }
    json_array_close(json);
}
