/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sections.h"
#include "render/render.h"

/* Raised when a name changes its meaning or goes; a new name does not raise it. */
enum { JSON_FORMAT = 1 };

static const char *worked_word(bool round)
{
    return round ? "round" : "flat";
}

static void known_number(struct json *json, const char *key, double value)
{
    if (value > 0)
        json_number(json, key, value);
    else
        json_null(json, key);
}

/* --- gauge and yarn in a stitch ------------------------------------------------------ */

static void write_axis(struct json *json, const char *key, const struct gauge_axis *axis)
{
    json_line_open(json, key);
    json_whole(json, "places", axis->nplaces);
    json_number(json, "spread_part", axis->spread);
    json_number(json, "likely_within_part", axis->half_width);
    json_object_close(json);
}

static void write_gauge(struct json *json, const char *key, const struct plan_gauge *gauge)
{
    json_object_open(json, key);
    json_bool(json, "measured", gauge->given);
    json_number(json, "stitches_per_inch", gauge->per_in);
    json_number(json, "rows_per_inch", gauge->rows_per_in);
    json_number(json, "stitch_width_mm", gauge->stitch_width_mm);
    json_number(json, "row_height_mm", gauge->row_height_mm);
    json_string(json, "worked", worked_word(gauge->round));
    json_bool(json, "washed", gauge->washed);
    json_bool(json, "wanted", gauge->wanted);
    known_number(json, "needle_mm", gauge->needle_mm);
    json_string(json, "needle_us", gauge->needle_us);
    json_string(json, "yarn_weight", gauge->weight_name);
    write_axis(json, "stitches", &gauge->gauge.stitches);
    write_axis(json, "rows", &gauge->gauge.rows);
    json_object_close(json);
}

static const char *slack_word(enum slack_origin origin)
{
    switch (origin) {
    case SLACK_GIVEN:
        return "project";
    case SLACK_MEASURED:
        return "measured";
    case SLACK_TABLE:
        break;
    }
    return "table";
}

static void write_fit(struct json *json, const struct plan_loop *loop)
{
    if (!loop->fit) {
        json_null(json, "fit");
        return;
    }
    json_line_open(json, "fit");
    json_whole(json, "lengths", loop->nobservations);
    json_whole(json, "beyond_need", loop->judged->freedom);
    json_number(json, "chi_square", loop->judged->chi_square);
    json_number(json, "chance", loop->judged->chance);
    json_bool(json, "by_yarn", loop->by_yarn);
    json_object_close(json);
}

static const char *measure_word(enum plan_measure measure)
{
    switch (measure) {
    case MEASURE_NOTHING:
        break;
    case MEASURE_STRANDED_ROW:
        return "stranded row unravelled";
    case MEASURE_PLAIN_ROW:
        return "plain row unravelled";
    case MEASURE_MARKED:
        return "marked length";
    case MEASURE_WEIGHT:
        return "swatch weighed";
    case MEASURE_GAUGE:
        return "gauge in more places";
    }
    return NULL;
}

static void write_advice(struct json *json, const struct plan_advice *advice)
{
    json_line_open(json, "would_help_most");
    json_string(json, "measure", measure_word(advice->measure));
    json_number(json, "error_part_now", advice->part_now);
    json_number(json, "error_part_then", advice->part_then);
    json_object_close(json);
}

static void write_loop(struct json *json, const struct plan_loop *loop)
{
    json_object_open(json, "yarn_in_a_stitch");
    json_string(json, "method", json_method_word(loop->method));
    json_number(json, "stitch_mm", loop->loop_mm);
    json_number(json, "plain_stitch_mm", loop->plain_loop_mm);
    json_number(json, "error_part", loop->error_part);
    json_number(json, "slack_ratio", loop->slack_ratio);
    json_string(json, "slack_from", slack_word(loop->slack_origin));
    json_number(json, "by_density_mm", loop->density_mm);
    json_number(json, "by_width_mm", loop->width_mm);
    json_number(json, "by_thickness_mm", loop->thickness_mm);
    json_number(json, "spread_part", loop->spread_part);
    json_number(json, "gauge_error_part", loop->gauge_error_part);
    write_fit(json, loop);
    write_advice(json, &loop->advice);
    json_object_close(json);
}

static void write_float_limit(struct json *json, const struct plan *plan)
{
    json_object_open(json, "float_limit");
    json_string(json, "rule", plan->piece.limit_catch_at ? "catch at" : "leave up to");
    json_number(json, "limit_inches", plan->piece.limit_in);
    json_string(json, "edges", plan->edges == EDGE_TURN ? "turn" : "anchor");
    json_whole(json, "stagger_columns", plan->stagger_cols);
    json_whole(json, "clear_ends_stitches", plan->clear_ends);
    json_bool(json, "spare_catches", plan->spare_catches);
    json_number(json, "carry_up_inches", plan->carry_up_in);
    json_object_close(json);
}

/* --- cast-on -------------------------------------------------------------------------- */

static const char *cast_on_word(enum cast_on_kind kind)
{
    switch (kind) {
    case CAST_ON_LONG_TAIL:
        return "long tail";
    case CAST_ON_PROVISIONAL:
        return "provisional";
    case CAST_ON_OTHER:
        break;
    }
    return "other";
}

static const char *bind_off_word(enum bind_off_kind kind)
{
    switch (kind) {
    case BIND_OFF_SEWN:
        return "sewn";
    case BIND_OFF_CORD:
        return "cord";
    case BIND_OFF_NONE:
        return "none";
    case BIND_OFF_STANDARD:
        break;
    }
    return "standard";
}

static void write_candidate(struct json *json, const struct plan *plan,
                            const struct plan_candidate *candidate)
{
    json_line_open(json, NULL);
    json_whole(json, "stitches", candidate->stitches);
    json_number(json, "finished_inches", candidate->finished_in);
    json_number(json, "ease_part", candidate->ease_ratio);
    json_array_open(json, "fits_bands");
    for (int i = 0; i < plan->piece.nbands && i < 64; i++)
        if (candidate->fits_bands >> i & 1)
            json_string(json, NULL, plan->piece.bands[i].name);
    json_array_close(json);
    json_bool(json, "fits_rib", candidate->fits_rib);
    json_bool(json, "chosen", candidate->chosen);
    json_object_close(json);
}

static void write_rib(struct json *json, const struct plan_cast_on *cast_on)
{
    if (!cast_on->has_rib) {
        json_null(json, "rib");
        return;
    }
    json_line_open(json, "rib");
    json_whole(json, "knit", cast_on->rib_knit);
    json_whole(json, "purl", cast_on->rib_purl);
    json_whole(json, "rows", cast_on->rib_rounds);
    json_whole(json, "stitches", cast_on->rib_sts);
    json_object_close(json);
}

static void write_cast_on(struct json *json, const struct plan *plan)
{
    const struct plan_cast_on *cast_on = &plan->piece.cast_on;

    json_object_open(json, "cast_on");
    json_whole(json, "stitches", cast_on->stitches);
    json_whole(json, "body_stitches", cast_on->body_sts);
    json_whole(json, "selvedge_stitches", cast_on->selvedge_sts);
    json_whole_or_null(json, "rib_even_stitches", cast_on->rib_even_sts, cast_on->rib_even_sts > 0);
    json_whole(json, "steek_stitches", cast_on->steek_sts);
    json_string(json, "kind", cast_on_word(cast_on->kind));
    json_string(json, "yarn", json_yarn_name(&plan->piece, cast_on->yarn));
    json_number(json, "width_inches", cast_on->width_in);
    write_rib(json, cast_on);
    json_array_open(json, "candidates");
    for (int i = 0; i < plan->ncandidates; i++)
        write_candidate(json, plan, &plan->candidates[i]);
    json_array_close(json);
    json_object_close(json);
}

static void write_bind_off(struct json *json, const struct plan *plan)
{
    json_line_open(json, "bind_off");
    json_string(json, "kind", bind_off_word(plan->bind_off));
    json_string(json, "yarn", json_yarn_name(&plan->piece, plan->bind_off_yarn));
    json_number(json, "tail_inches", plan->tail_in);
    json_object_close(json);
}

/* --- the whole piece, and other gauges ------------------------------------------------ */

static void write_totals(struct json *json, const struct plan *plan)
{
    const struct plan_piece *piece = &plan->piece;

    json_object_open(json, "piece");
    known_number(json, "height_wanted_inches", plan->height_wanted_in);
    json_number(json, "bands_height_inches", piece->bands_height_in);
    json_number(json, "finished_low_inches", piece->finished_low_in);
    json_number(json, "finished_high_inches", piece->finished_high_in);
    json_whole(json, "catches_fewest", piece->catches_fewest);
    json_whole(json, "catches", piece->catches);
    json_whole(json, "longest_stitches", piece->longest_sts);
    json_number(json, "longest_inches", piece->longest_in);
    json_whole(json, "over_limit", piece->over_limit);
    json_bool(json, "too_long", piece->too_long);
    json_object_close(json);
}

/* A gauge at which the chart is wider than the piece has a name and a reason, no figures. */
static void write_try_unfit(struct json *json, const struct plan_try *try)
{
    static const char *const absent[] = {"repeats",    "longest_stitches", "longest_inches",
                                         "over_limit", "catches",          "catches_fewest",
                                         "too_long",   "cast_on_stitches"};

    known_number(json, "stitches_per_inch", try->piece.gauge.per_in);
    known_number(json, "rows_per_inch", try->piece.gauge.rows_per_in);
    for (size_t i = 0; i < sizeof absent / sizeof *absent; i++)
        json_null(json, absent[i]);
    json_array_open(json, "bands");
    json_array_close(json);
    json_array_open(json, "yarn");
    json_array_close(json);
}

static void write_try_fit(struct json *json, const struct plan_piece *piece)
{
    json_number(json, "stitches_per_inch", piece->gauge.per_in);
    json_number(json, "rows_per_inch", piece->gauge.rows_per_in);
    json_whole_or_null(json, "repeats", piece->nbands ? piece->bands[0].repeats : 0,
                       piece->nbands > 0);
    json_whole(json, "longest_stitches", piece->longest_sts);
    json_number(json, "longest_inches", piece->longest_in);
    json_whole(json, "over_limit", piece->over_limit);
    json_whole(json, "catches", piece->catches);
    json_whole(json, "catches_fewest", piece->catches_fewest);
    json_bool(json, "too_long", piece->too_long);
    json_whole(json, "cast_on_stitches", piece->cast_on.stitches);
    json_bands_short(json, piece);
    json_yarns_short(json, piece->yarns, piece->nyarns);
}

void json_try(struct json *json, const char *key, const struct plan_try *try)
{
    json_object_open(json, key);
    json_string(json, "name", try->name);
    json_bool(json, "fits", try->fits);
    json_string(json, "why_not", try->fits ? NULL : try->why);
    if (try->fits)
        write_try_fit(json, &try->piece);
    else
        write_try_unfit(json, try);
    json_object_close(json);
}

/* --- what it stands on ---------------------------------------------------------------- */

static const char *severity_word(enum diag_severity severity)
{
    switch (severity) {
    case DIAG_NOTE:
        return "note";
    case DIAG_CAUTION:
        return "caution";
    case DIAG_ERROR:
        break;
    }
    return "fault";
}

static void write_note(struct json *json, const struct diag *note)
{
    const struct place *at = &note->at;

    json_object_open(json, NULL);
    json_string(json, "code", diag_code_text(note->code));
    json_string(json, "severity", severity_word(diag_code_severity(note->code)));
    json_string(json, "text", note->what);
    json_string(json, "todo", note->todo);
    json_string(json, "file", at->source ? at->source->name : NULL);
    json_whole_or_null(json, "line", at->line, at->line > 0);
    json_whole_or_null(json, "column", at->column, at->line > 0 && at->column > 0);
    json_object_close(json);
}

static void write_allowance(struct json *json, const struct allowance *row)
{
    json_object_open(json, NULL);
    json_string(json, "key", row->key);
    json_number(json, "value", row->value);
    json_number(json, "low", row->low);
    json_number(json, "high", row->high);
    json_string(json, "unit", row->unit);
    json_string(json, "standing", row->standing);
    json_string(json, "source", row->source);
    json_string(json, "what", row->what);
    json_object_close(json);
}

static void write_head(struct json *json, const struct plan *plan)
{
    json_whole(json, "format", JSON_FORMAT);
    json_string(json, "title", plan->title);
    json_string(json, "project", plan->project_name);
    json_whole(json, "make", plan->make);
    json_string(json, "worked", worked_word(plan->round));
    json_string(json, "units", plan->cm_first ? "cm" : "in");
    json_bool(json, "child", plan->child);
    json_bool(json, "child_limit_longer", plan->child_limit_longer);
}

static void write_foundations(struct json *json, const struct plan *plan)
{
    json_array_open(json, "notes");
    for (int i = 0; i < plan->nnotes; i++)
        write_note(json, &plan->notes[i]);
    json_array_close(json);
    json_array_open(json, "basis");
    for (int i = 0; i < plan->nbasis; i++)
        write_allowance(json, plan->basis[i]);
    json_array_close(json);
}

void render_json(struct work *work, const struct plan *plan, struct text *out)
{
    struct json json = json_begin(out);

    json_object_open(&json, NULL);
    write_head(&json, plan);
    write_gauge(&json, "gauge", &plan->piece.gauge);
    write_gauge(&json, "plain_gauge", &plan->piece.plain_gauge);
    write_loop(&json, &plan->piece.loop);
    write_float_limit(&json, plan);
    write_cast_on(&json, plan);
    write_bind_off(&json, plan);
    json_steps(&json, &plan->piece);
    json_bands(work, &json, &plan->piece);
    json_borders(&json, &plan->piece);
    json_together(&json, &plan->piece);
    json_yarns(&json, &plan->piece);
    json_duplicates(&json, plan);
    json_exchanged(&json, plan);
    json_swatches(&json, plan);
    json_calls(&json, plan);
    json_weigh_in(&json, plan);
    json_weighed(&json, plan);
    write_totals(&json, plan);
    json_array_open(&json, "tries");
    for (int i = 0; i < plan->ntries; i++)
        json_try(&json, NULL, &plan->tries[i]);
    json_array_close(&json);
    json_sizes(&json, plan);
    json_ladder(&json, plan);
    write_foundations(&json, plan);
    json_object_close(&json);
    json_end(&json);
}
