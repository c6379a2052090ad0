/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The redraw as JSON. Names, units and meanings: docs/redraw.schema.json.
 */
#include "emit.h"
#include "render/draw/redraw.h"

/* Raised when a name changes its meaning or goes; a new name does not raise it. */
enum { JSON_FORMAT = 1 };

static void write_gauge(struct json *json, const char *key, double per_in, double rows_per_in)
{
    json_line_open(json, key);
    json_number(json, "stitches_per_inch", per_in);
    json_number(json, "rows_per_inch", rows_per_in);
    json_object_close(json);
}

static void write_line(struct json *json, const char *key, const struct redraw_line *line)
{
    json_object_open(json, key);
    json_whole(json, "was", line->was);
    json_whole(json, "now", line->now);
    json_number(json, "exact", line->exact);
    json_number(json, "was_inches", line->was_in);
    json_number(json, "now_inches", line->now_in);
    json_number(json, "off_part", line->off_part);
    if (line->nearer > 0) {
        json_line_open(json, "nearer");
        json_whole(json, "count", line->nearer);
        json_number(json, "finished_inches", line->nearer_in);
        json_number(json, "off_part", line->nearer_off_part);
        json_bool(json, "moves_middle_only", line->nearer_moves_middle);
        json_object_close(json);
    } else {
        json_null(json, "nearer");
    }
    json_object_close(json);
}

static void write_ways(struct json *json, const struct plan_redraw *redraw)
{
    json_array_open(json, "ways");
    for (int i = 0; i < redraw->nways; i++) {
        const struct redraw_way *way = &redraw->ways[i];

        json_line_open(json, NULL);
        json_whole(json, "repeat_stitches", way->ncols);
        json_whole(json, "repeats", way->repeats);
        json_whole(json, "stitches", way->stitches);
        json_number(json, "finished_inches", way->finished_in);
        json_number(json, "off_part", way->off_part);
        json_number(json, "repeat_off_part", way->wide_part);
        json_bool(json, "taken", i == 0);
        json_object_close(json);
    }
    json_array_close(json);
    json_array_open(json, "row_ways");
    for (int i = 0; i < redraw->nheights; i++) {
        const struct redraw_height *height = &redraw->heights[i];

        json_line_open(json, NULL);
        json_whole(json, "rows", height->nrows);
        json_number(json, "finished_inches", height->finished_in);
        json_number(json, "off_part", height->off_part);
        json_bool(json, "taken", i == 0);
        json_object_close(json);
    }
    json_array_close(json);
}

static const char *kind_word(enum symmetry_kind kind)
{
    switch (kind) {
    case SYMMETRY_ALONG:
        return "again along";
    case SYMMETRY_DROP:
        return "again up";
    case SYMMETRY_ACROSS:
        return "mirror left to right";
    case SYMMETRY_UPSIDE:
        return "mirror top to bottom";
    case SYMMETRY_TURN:
    case SYMMETRY_KINDS:
        break;
    }
    return "half-turn";
}

static void write_symmetries(struct json *json, const struct plan_redraw *redraw)
{
    const struct resize_answer *answer = redraw->answer;

    json_array_open(json, "symmetries");
    for (int i = 0; i < answer->motif.nmoves; i++) {
        json_line_open(json, NULL);
        json_string(json, "kind", kind_word(answer->motif.move[i].kind));
        json_whole(json, "columns", answer->motif.move[i].column);
        json_whole(json, "rows", answer->motif.move[i].row);
        json_bool(json, "kept", answer->keeps[i]);
        json_object_close(json);
    }
    json_array_close(json);
    json_bool(json, "keeps_middle", answer->columns.keeps_middle);
    if (redraw->keeps_cols > 0) {
        json_line_open(json, "keeps_all_at");
        json_whole(json, "columns", redraw->keeps_cols);
        json_whole(json, "rows", redraw->keeps_rows);
        json_object_close(json);
    } else {
        json_null(json, "keeps_all_at");
    }
}

static const char *yarn_word(const struct plan *plan, uint8_t yarn)
{
    return yarn == GRID_NO_STITCH ? NULL : plan->piece.yarns[yarn].name;
}

static void write_nearly(struct json *json, const struct plan *plan, const struct proof_chart *nearly)
{
    json_array_open(json, "mend_first");
    for (int i = 0; nearly && i < nearly->nfaults; i++) {
        const struct proof_fault *fault = &nearly->faults[i];

        json_line_open(json, NULL);
        json_whole(json, "row", fault->row + 1);
        json_whole(json, "column", fault->column + 1);
        json_string(json, "yarn", yarn_word(plan, fault->yarn));
        json_string(json, "wanted", yarn_word(plan, fault->wanted));
        json_object_close(json);
    }
    json_array_close(json);
}

static void write_numbers(struct json *json, const char *key, const int *number, int count)
{
    json_array_open(json, key);
    for (int i = 0; i < count; i++)
        json_whole(json, NULL, number[i] + 1);
    json_array_close(json);
}

static void write_faults(struct json *json, const struct plan_redraw *redraw)
{
    const struct resize_faults *faults = &redraw->answer->faults;

    json_line_open(json, "faults");
    json_whole(json, "lines", faults->lines);
    json_whole(json, "split", faults->split);
    json_whole(json, "joined", faults->joined);
    json_whole(json, "lost", faults->lost);
    json_whole(json, "holes", faults->holes);
    json_whole(json, "floats", faults->floats);
    json_object_close(json);
    json_line_open(json, "ends_lost");
    json_whole(json, "count", redraw->ends_lost);
    write_numbers(json, "rows_was", redraw->ends_row, redraw->nends_rows);
    json_object_close(json);
    json_bool(json, "recognisable", redraw->answer->recognisable);
    json_array_open(json, "crowded");
    for (int i = 0; i < redraw->ncrowds; i++) {
        const struct redraw_crowd *crowd = &redraw->crowds[i];

        json_object_open(json, NULL);
        json_string(json, "in", crowd->along ? "rows" : "columns");
        write_numbers(json, "numbers", crowd->number, crowd->count);
        json_whole(json, "from", crowd->stretch.from + 1);
        json_whole(json, "length", crowd->stretch.length);
        json_whole(json, "runs", crowd->stretch.runs);
        json_whole(json, "room", crowd->stretch.room);
        json_object_close(json);
    }
    json_array_close(json);
    write_numbers(json, "rows_hurt_was", redraw->hurt_old, redraw->nhurt_old);
    write_numbers(json, "rows_hurt_now", redraw->hurt_new, redraw->nhurt_new);
}

static void write_floats(struct json *json, const char *key, const struct redraw_floats *floats, bool known)
{
    if (!known) {
        json_null(json, key);
        return;
    }
    json_line_open(json, key);
    json_whole(json, "longest_stitches", floats->longest_sts);
    json_number(json, "longest_inches", floats->longest_in);
    json_whole(json, "over_limit_piece", floats->over_limit);
    json_whole(json, "catches_repeat", floats->catches_repeat);
    json_whole(json, "catches_piece", floats->catches_piece);
    json_object_close(json);
}

static void write_area(struct json *json, const struct plan_redraw *redraw)
{
    const struct grid *chart = &redraw->answer->chart;

    json_line_open(json, "area");
    json_number(json, "differs_part", redraw->differs_part);
    json_number(json, "least_part", redraw->least_part);
    json_object_close(json);
    json_array_open(json, "changed");
    for (int at = 0; at < chart->nrows * chart->ncols; at++) {
        if (!redraw->changed[at])
            continue;
        json_line_open(json, NULL);
        json_whole(json, "row", at / chart->ncols + 1);
        json_whole(json, "column", at % chart->ncols + 1);
        json_object_close(json);
    }
    json_array_close(json);
}

/* What the project is to say with the new chart. */
static void write_project(struct json *json, const struct plan_redraw *redraw)
{
    json_line_open(json, "project");
    json_bool(json, "take_out_begin_with", redraw->begins);
    json_bool(json, "take_out_remedy", redraw->remedy);
    if (redraw->repeats > 0)
        json_whole(json, "repeats", redraw->repeats);
    else
        json_null(json, "repeats");
    json_bool(json, "counted_with_others", redraw->counted_with_others);
    json_object_close(json);
}

/* The top row first, the leftmost stitch first, as in a chart file. */
static void write_rows(struct json *json, const char *key, const struct plan_redraw *redraw,
                       const struct grid *grid)
{
    struct text row = text_create(json->out->arena);

    json_array_open(json, key);
    for (int r = grid->nrows - 1; r >= 0 && grid->ncols > 0; r--) {
        row.length = 0;
        for (int c = grid->ncols - 1; c >= 0; c--)
            text_add(&row, redraw->mark[grid->cell[r * grid->ncols + c]]);
        json_string(json, NULL, row.bytes);
    }
    json_array_close(json);
}

static void write_chart(struct json *json, const struct plan *plan, const struct plan_redraw *redraw)
{
    json_object_open(json, "chart");
    json_array_open(json, "marks");
    for (int y = 0; y < plan->piece.nyarns; y++) {
        json_line_open(json, NULL);
        json_string(json, "yarn", plan->piece.yarns[y].name);
        json_string(json, "mark", redraw->mark[y]);
        json_bool(json, "given", !redraw->mark_chosen[y]);
        json_object_close(json);
    }
    json_array_close(json);
    write_rows(json, "was", redraw, &redraw->old->drawn);
    write_rows(json, "now", redraw, &redraw->band->drawn);
    write_rows(json, "left_was", redraw, &redraw->old->left);
    write_rows(json, "right_was", redraw, &redraw->old->right);
    write_rows(json, "left_now", redraw, &redraw->band->left);
    write_rows(json, "right_now", redraw, &redraw->band->right);
    json_object_close(json);
}

void render_redraw_json(const struct plan *plan, const struct plan_redraw *redraw, struct text *out)
{
    struct json json = json_begin(out, NULL);

    json_object_open(&json, NULL);
    json_whole(&json, "format", JSON_FORMAT);
    json_string(&json, "band", redraw->old->name);
    json_string(&json, "chart_name", redraw->old->chart_name);
    json_string(&json, "worked", plan->round ? "round" : "flat");
    json_whole(&json, "upwards", redraw->old->upwards);
    write_gauge(&json, "gauge_was", plan->piece.gauge.per_in, plan->piece.gauge.rows_per_in);
    write_gauge(&json, "gauge_now", redraw->per_in, redraw->rows_per_in);
    json_number(&json, "target_inches", redraw->target_in);
    write_line(&json, "stitches", &redraw->columns);
    write_line(&json, "rows", &redraw->rows);
    json_line_open(&json, "all_upwards");
    json_number(&json, "was_inches", redraw->upwards.was_in);
    json_number(&json, "now_inches", redraw->upwards.now_in);
    json_whole(&json, "nearest_upwards", redraw->upwards.best);
    json_number(&json, "nearest_inches", redraw->upwards.best_in);
    json_number(&json, "nearest_off_part", redraw->upwards.best_off_part);
    json_object_close(&json);
    json_line_open(&json, "plain_rows");
    json_whole(&json, "below_was", redraw->plain.below_was);
    json_whole(&json, "below_now", redraw->plain.below_now);
    json_whole(&json, "above_was", redraw->plain.above_was);
    json_whole(&json, "above_now", redraw->plain.above_now);
    json_object_close(&json);
    json_number(&json, "stretch_part", redraw->stretch_part);
    write_ways(&json, redraw);
    write_symmetries(&json, redraw);
    write_nearly(&json, plan, redraw->nearly);
    write_faults(&json, redraw);
    write_area(&json, redraw);
    write_project(&json, redraw);
    json_number(&json, "float_limit_inches", plan->piece.limit_in);
    write_floats(&json, "floats_was", &redraw->was, true);
    write_floats(&json, "floats_now", &redraw->now, redraw->planned);
    write_chart(&json, plan, redraw);
    json_object_close(&json);
    json_end(&json);
}
