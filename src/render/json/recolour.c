/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sections.h"

static void write_change(struct json *json, const struct plan_piece *piece, const char *key,
                         const struct plan_recolour *change)
{
    json_object_open(json, key);
    json_whole(json, "catches_saved_repeat", change->saved_repeat);
    json_whole(json, "catches_saved_piece", change->saved_piece);
    json_whole(json, "catches_saved", change->saved_all);
    json_whole(json, "stitches_changed_piece", change->sts_piece);
    json_whole(json, "float_behind_stitches", change->behind_sts);
    json_array_open(json, "stitches");
    for (int i = 0; i < change->ncells; i++) {
        const struct plan_recolour_cell *cell = &change->cells[i];

        json_line_open(json, NULL);
        json_whole(json, "row", cell->row + 1);
        json_whole(json, "column", cell->column + 1);
        json_string(json, "was", json_yarn_name(piece, cell->was));
        json_string(json, "becomes", json_yarn_name(piece, cell->yarn));
        json_object_close(json);
    }
    json_array_close(json);
    json_object_close(json);
}

void json_recolours(struct json *json, const struct plan_piece *piece, const struct plan_band *band)
{
    const struct plan_recolours *recolours = &band->recolours;

    if (recolours->too_large) {
        json_null(json, "stitch_changes");
        return;
    }
    json_object_open(json, "stitch_changes");
    json_array_open(json, "one");
    for (int i = 0; i < recolours->nones; i++)
        write_change(json, piece, NULL, &recolours->one[i]);
    json_array_close(json);
    if (recolours->has_pair)
        write_change(json, piece, "two", &recolours->pair);
    else
        json_null(json, "two");
    json_bool(json, "two_certain", recolours->pair_certain);
    json_object_close(json);
}
