/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sections.h"

static const char *step_word(enum step_kind kind)
{
    switch (kind) {
    case STEP_CAST_ON:
        return "cast on";
    case STEP_RIB:
        return "rib";
    case STEP_SHAPE:
        return "shape";
    case STEP_PLAIN:
        return "plain";
    case STEP_BAND:
        return "band";
    case STEP_BIND_OFF:
        break;
    }
    return "bind off";
}

static void write_shaping(struct json *json, const struct shaping *shaping)
{
    json_object_open(json, "shaping");
    json_whole(json, "rows", shaping->rounds);
    json_string(json, "line", shaping->line);
    json_string(json, "sum", shaping->sum);
    json_object_close(json);
}

static void write_step(struct json *json, const struct plan_piece *piece,
                       const struct plan_step *step)
{
    bool cast_on = step->kind == STEP_CAST_ON;
    int yarn = step->kind == STEP_BAND ? -1 : step->yarn; /* a band has yarns of its own */

    json_object_open(json, NULL);
    json_string(json, "kind", step_word(step->kind));
    json_string(json, "name", step->name);
    json_string(json, "yarn", json_yarn_name(piece, yarn));
    json_string(json, "purl_yarn", json_yarn_name(piece, step->yarn2));
    json_whole(json, "from_stitches", step->from_sts);
    json_whole(json, "to_stitches", step->to_sts);
    json_whole(json, "stitches_on_needle", step->on_needle);
    json_whole(json, "rows", step->rows);
    json_whole_or_null(json, "first_row", step->first_row, step->first_row > 0);
    json_number(json, "height_inches", step->height_in);
    json_whole(json, "stitches", step->stitches);
    json_bool(json, "counted_otherwise", step->counted_otherwise);
    if (step->sewn_in > 0.0)
        json_number(json, "sewn_inches", step->sewn_in);
    else
        json_null(json, "sewn_inches");
    if (cast_on && step->length_in > 0)
        json_number(json, "tail_inches", step->length_in);
    else
        json_null(json, "tail_inches");
    if (step->kind == STEP_SHAPE)
        write_shaping(json, &step->shaping);
    else
        json_null(json, "shaping");
    json_object_close(json);
}

void json_steps(struct json *json, const struct plan_piece *piece)
{
    json_array_open(json, "steps");
    for (int i = 0; i < piece->nsteps; i++)
        write_step(json, piece, &piece->steps[i]);
    json_array_close(json);
}
