/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sections.h"

static void write_stage(struct json *json, const struct plan_piece *piece,
                        const struct plan_stage *stage)
{
    json_object_open(json, NULL);
    json_string(json, "names", stage->names);
    json_bool(json, "stands", stage->stands);
    json_bool(json, "within_reach", !stage->far);
    json_bool(json, "none_near_passes", stage->stopped);
    json_array_open(json, "bands");
    for (int i = 0; i < piece->nbands && i < 64; i++)
        if (stage->bands >> i & 1)
            json_string(json, NULL, piece->bands[i].name);
    json_array_close(json);
    json_object_close(json);
}

static void write_set(struct json *json, const struct plan_together *together,
                      const struct plan_counts *set)
{
    json_object_open(json, NULL);
    json_array_open(json, "stitches");
    for (int i = 0; i < together->nstages; i++)
        json_whole(json, NULL, set->counts[i]);
    json_array_close(json);
    json_whole(json, "shaping_rounds", set->shaping_rounds);
    json_whole(json, "shaped_stitches", set->shaped_sts);
    json_number(json, "off_inches", set->off_in);
    json_bool(json, "planned", set->planned);
    json_object_close(json);
}

void json_together(struct json *json, const struct plan_piece *piece)
{
    const struct plan_together *together = piece->together;

    if (!together) {
        json_null(json, "together");
        return;
    }
    json_object_open(json, "together");
    json_bool(json, "followed", together->followed);
    json_number(json, "reach_part", together->reach);
    json_array_open(json, "stages");
    for (int i = 0; i < together->nstages; i++)
        write_stage(json, piece, &together->stages[i]);
    json_array_close(json);
    json_array_open(json, "sets");
    for (int i = 0; i < together->nsets; i++)
        write_set(json, together, &together->sets[i]);
    json_array_close(json);
    json_object_close(json);
}
