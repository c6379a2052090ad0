/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Gauge and float limit: what the swatch gives the plan.
 */
#include "plan/builder.h"

#include <math.h>

#include "base/arena.h"

static const double MM_PER_IN = 25.4; /* exact by definition */

static bool pool(struct builder *builder, const struct given_counts *counts, struct rational over_in,
                 struct gauge_axis *axis)
{
    int status = gauge_pool(counts->value, counts->count, over_in, axis);

    if (status >= 0)
        return true;
    builder_fault(builder, DIAG_GAUGE_EXACT, counts->at,
                  "These counts hold more different fractions than can be kept exactly.",
                  "Give halves, quarters or eighths of a stitch, and at most fifty places.");
    return false;
}

static void caution_spread(struct builder *builder, const struct gauge_axis *axis,
                           const struct given_counts *counts, const char *word)
{
    double again = builder_threshold(builder, "gauge_spread_swatch_again");
    struct arena *arena = builder->work->arena;

    if (builder->try_at || axis->spread <= builder_threshold(builder, "gauge_spread_remeasure"))
        return;
    diag_add(builder->work->diagnostics, DIAG_GAUGE_SPREAD, counts->at,
             arena_printf(arena, "The %s counts differ by %.1f %% from place to place.", word,
                          100.0 * axis->spread),
             axis->spread > again
                 ? "That is too much to plan on: knit a larger swatch and measure it again."
                 : "Measure again, away from the edges, counting halves and quarters.");
}

static const char *us_needle(const struct builder *builder, double mm)
{
    const struct table *needles = tables_find(builder->work->tables, "needles");

    for (int row = 0; needles && row < needles->nrows; row++)
        if (fabs(table_number(needles, row, "mm") - mm) < 0.01)
            return table_field(needles, row, "us");
    return NULL;
}

static void finish_gauge(const struct builder *builder, struct plan_gauge *out,
                         const struct given_length *needle)
{
    out->per_in = rational_double(out->gauge.stitches.per_in);
    out->rows_per_in = rational_double(out->gauge.rows.per_in);
    out->stitch_width_mm = MM_PER_IN / out->per_in;
    out->row_height_mm = MM_PER_IN / out->rows_per_in;
    if (rational_is_value(needle->in)) {
        out->needle_mm = rational_double(needle->in) * MM_PER_IN;
        out->needle_us = us_needle(builder, out->needle_mm);
    }
    out->weight_name = plan_weight_name(builder, out->gauge.stitches.per_in);
}

static void gauge_of_swatch(struct builder *builder, const struct swatch *swatch,
                            struct plan_gauge *out)
{
    const struct project *project = builder->project;

    out->measured = swatch->is_there;
    out->washed = swatch->washed.value;
    out->round = swatch->worked.value == WORKED_ROUND;
    if (!pool(builder, &swatch->stitches, swatch->over.in, &out->gauge.stitches) ||
        !pool(builder, &swatch->rows, swatch->over.in, &out->gauge.rows))
        return;
    caution_spread(builder, &out->gauge.stitches, &swatch->stitches,
                   swatch == &project->swatch ? "stitch" : "plain swatch's stitch");
    caution_spread(builder, &out->gauge.rows, &swatch->rows,
                   swatch == &project->swatch ? "row" : "plain swatch's row");
    finish_gauge(builder, out, &swatch->needle);
}

/* Another yarn or needle: its own counts; the rest of the swatch's story stays. */
static void gauge_of_try(struct builder *builder, struct plan_gauge *out)
{
    const struct try_gauge *try_at = builder->try_at;

    out->measured = true;
    out->washed = builder->own->gauge.washed;
    out->round = builder->own->gauge.round;
    if (pool(builder, &try_at->stitches, try_at->over.in, &out->gauge.stitches) &&
        pool(builder, &try_at->rows, try_at->over.in, &out->gauge.rows))
        finish_gauge(builder, out, &try_at->needle);
}

/* Plain fabric of a try: as much finer or coarser as the stranded one is. */
static void plain_of_try(struct builder *builder)
{
    const struct plan_gauge *own = &builder->own->gauge;
    const struct plan_gauge *own_plain = &builder->own->plain_gauge;
    struct plan_gauge *plain = &builder->piece->plain_gauge;
    struct gauge *gauge = &plain->gauge;
    const struct given_length none = {0};

    *plain = builder->piece->gauge;
    plain->measured = false;
    if (!own_plain->measured)
        return;
    gauge->stitches.per_in =
        rational_mul(own_plain->gauge.stitches.per_in,
                     rational_div(builder->per_in, own->gauge.stitches.per_in));
    gauge->rows.per_in = rational_mul(own_plain->gauge.rows.per_in,
                                      rational_div(builder->rows_per_in, own->gauge.rows.per_in));
    if (!rational_is_value(gauge->stitches.per_in) || !rational_is_value(gauge->rows.per_in)) {
        *gauge = builder->piece->gauge.gauge;
        return;
    }
    plain->measured = true;
    finish_gauge(builder, plain, &none);
}

static bool has_plain_parts(const struct project *project)
{
    for (int i = 0; i < project->nparts; i++)
        if (project->parts[i].kind == PART_PLAIN)
            return true;
    return false;
}

void plan_gauge_set(struct builder *builder)
{
    const struct project *project = builder->project;
    struct plan_piece *piece = builder->piece;

    if (builder->own_gauge)
        piece->gauge = builder->own->gauge;
    else if (builder->try_at)
        gauge_of_try(builder, &piece->gauge);
    else
        gauge_of_swatch(builder, &project->swatch, &piece->gauge);
    if (builder->failed)
        return;
    builder->per_in = piece->gauge.gauge.stitches.per_in;
    builder->rows_per_in = piece->gauge.gauge.rows.per_in;
    if (builder->own_gauge) {
        piece->plain_gauge = builder->own->plain_gauge;
    } else if (builder->try_at) {
        plain_of_try(builder);
    } else if (project->swatch_plain.is_there) {
        gauge_of_swatch(builder, &project->swatch_plain, &piece->plain_gauge);
    } else {
        piece->plain_gauge = piece->gauge;
        piece->plain_gauge.measured = false;
        if (has_plain_parts(project))
            diag_add(builder->work->diagnostics, DIAG_PLAIN_GAUGE, project->swatch.at,
                     "The plain parts are planned at the stranded gauge.",
                     "Plain fabric is usually a little wider: add [swatch plain] with its own "
                     "counts.");
    }
    builder->plain_per_in = piece->plain_gauge.gauge.stitches.per_in;
}

/* Rows go with the stitches, as they do when a needle changes. Plain fabric of its own swatch stays. */
void plan_gauge_scale(struct builder *builder, struct rational ratio)
{
    const struct given_length none = {0};
    struct plan_piece *piece = builder->piece;
    struct gauge *gauge = &piece->gauge.gauge;
    struct rational per_in = rational_mul(gauge->stitches.per_in, ratio);
    struct rational rows_per_in = rational_mul(gauge->rows.per_in, ratio);

    if (!rational_is_value(per_in) || !rational_is_value(rows_per_in)) {
        builder_fault(builder, DIAG_GAUGE_EXACT, builder->project->swatch.at,
                      "Measure and gauge hold finer fractions than can be kept exactly.",
                      "Give eighths of an inch or tenths of a centimetre.");
        return;
    }
    gauge->stitches.per_in = builder->per_in = per_in;
    gauge->rows.per_in = builder->rows_per_in = rows_per_in;
    finish_gauge(builder, &piece->gauge, &none);
    piece->gauge.wanted = true;
    piece->gauge.needle_mm = 0.0; /* hers gave the other gauge */
    piece->gauge.needle_us = NULL;
    if (piece->plain_gauge.measured)
        return;
    piece->plain_gauge = piece->gauge;
    piece->plain_gauge.measured = false;
    builder->plain_per_in = per_in;
}

static void fault_small(struct builder *builder)
{
    const struct plan_piece *piece = builder->piece;
    bool cm = builder_in_cm(builder);
    double unit = cm ? 2.54 : 1.0; /* of hers to the inch, exact by definition */

    builder_fault(builder, DIAG_LIMIT_SMALL, builder->limit_at,
                  arena_printf(builder->work->arena,
                               "At %.4g stitches to %s, a limit of %.4g %s is less than one stitch.",
                               piece->gauge.per_in * (cm ? 10.0 / unit : 1.0),
                               cm ? "10 cm" : "the inch", piece->limit_in * unit, cm ? "cm" : "in"),
                  /* The next hundredth that is larger: 0.14 of 0.1398, 0.15 of 0.14. */
                  arena_printf(builder->work->arena, "Write a limit of %.2f %s or more.",
                               (floor(100 * (unit / piece->gauge.per_in)) + 1) / 100, cm ? "cm" : "in"));
}

void plan_limit_set(struct builder *builder)
{
    const struct project *project = builder->project;
    struct plan_piece *piece = builder->piece;
    int64_t leave;

    if (rational_is_value(project->catch_at.in)) {
        builder->limit_in = project->catch_at.in;
        builder->limit_at = project->catch_at.at;
        piece->limit_catch_at = true;
        leave = gauge_catch_at_sts(builder->limit_in, builder->per_in);
    } else {
        builder_rest_on(builder, project->leave_up_to.allowance);
        builder->limit_in = project->leave_up_to.in;
        builder->limit_at = project->leave_up_to.at;
        leave = gauge_leave_up_to_sts(builder->limit_in, builder->per_in);
    }
    piece->limit_in = rational_double(builder->limit_in);
    builder->leave_sts = (int)leave;
    if (leave < 1)
        fault_small(builder);
}
