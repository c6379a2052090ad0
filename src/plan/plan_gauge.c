/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Gauge, yarn in a stitch, float limit: what the swatch gives the plan.
 */
#include "builder.h"

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

static const char *weight_name(const struct builder *builder, double per_in)
{
    const struct table *weights = tables_find(builder->work->tables, "yarn_weights");
    double per_4in = 4.0 * per_in;

    for (int row = 0; weights && row < weights->nrows; row++) {
        double low = table_number(weights, row, "knit_sts_4in_min");
        double high = table_number(weights, row, "knit_sts_4in_max");

        if ((isnan(low) || per_4in >= low - 0.5) && (isnan(high) || per_4in < high + 0.5))
            return table_field(weights, row, "name");
    }
    return NULL;
}

static void finish_gauge(const struct builder *builder, struct plan_gauge *out,
                         const struct given_length *needle)
{
    out->per_in = rational_double(out->gauge.stitches.per_in);
    out->rows_per_in = rational_double(out->gauge.rows.per_in);
    out->stitch_width_mm = MM_PER_IN / out->per_in;
    out->row_height_mm = MM_PER_IN / out->rows_per_in;
    if (needle->given) {
        out->needle_mm = rational_double(needle->in) * MM_PER_IN;
        out->needle_us = us_needle(builder, out->needle_mm);
    }
    out->weight_name = weight_name(builder, out->per_in);
}

static void gauge_of_swatch(struct builder *builder, const struct swatch *swatch,
                            struct plan_gauge *out)
{
    const struct project *project = builder->project;

    out->given = true;
    out->washed = swatch->washed.given && swatch->washed.value;
    out->round = (swatch->worked.given ? swatch->worked.value : project->worked.value) ==
                 WORKED_ROUND;
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

    out->given = true;
    out->washed = builder->own->gauge.washed;
    out->round = builder->own->gauge.round;
    if (!pool(builder, &try_at->stitches, try_at->over.in, &out->gauge.stitches) ||
        !pool(builder, &try_at->rows, try_at->over.in, &out->gauge.rows))
        return;
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
    plain->given = false;
    if (!own_plain->given)
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
    plain->given = true;
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

    if (builder->try_at)
        gauge_of_try(builder, &piece->gauge);
    else
        gauge_of_swatch(builder, &project->swatch, &piece->gauge);
    if (builder->failed)
        return;
    builder->per_in = piece->gauge.gauge.stitches.per_in;
    builder->rows_per_in = piece->gauge.gauge.rows.per_in;
    if (builder->try_at) {
        plain_of_try(builder);
    } else if (project->swatch_plain.given && project->swatch_plain.stitches.given &&
               project->swatch_plain.rows.given) {
        gauge_of_swatch(builder, &project->swatch_plain, &piece->plain_gauge);
    } else {
        piece->plain_gauge = piece->gauge;
        piece->plain_gauge.given = false;
        if (has_plain_parts(project))
            diag_add(builder->work->diagnostics, DIAG_PLAIN_GAUGE, project->swatch.at,
                     "The plain parts are planned at the stranded gauge.",
                     "Plain fabric is usually a little wider: add [swatch plain] with its own "
                     "counts.");
    }
    builder->plain_per_in = piece->plain_gauge.gauge.stitches.per_in;
    builder->plain_rows_per_in = piece->plain_gauge.gauge.rows.per_in;
}

/* Metres per gram, the mean of the knitted yarns that say it; NaN if none does. */
static double metres_per_gram(const struct builder *builder)
{
    const struct project *project = builder->project;
    double sum = 0.0;
    int n = 0;

    if (builder->try_at && builder->try_at->ball.given)
        return rational_double(
            rational_div(builder->try_at->ball.length_m, builder->try_at->ball.mass_g));
    for (int i = 0; i < project->nyarns; i++) {
        const struct yarn *yarn = &project->yarns[i];

        if (yarn->duplicate_over.given || !yarn->ball.given)
            continue;
        sum += rational_double(rational_div(yarn->ball.length_m, yarn->ball.mass_g));
        n++;
    }
    return n > 0 ? sum / n : (double)NAN;
}

static double density_mm(const struct builder *builder, const struct plan_gauge *gauge)
{
    double ks = builder_value(builder, gauge->washed ? "loop_ks_washed" : "loop_ks_unwashed");

    return loop_from_density_mm(ks, gauge->per_in / MM_PER_IN, gauge->rows_per_in / MM_PER_IN);
}

/* The same from gauge alone three ways; how far apart they lie is part of the stated error. */
static void cross_checks(const struct builder *builder, struct plan_loop *loop)
{
    const struct plan_gauge *gauge = &builder->piece->gauge;
    double per_gram = metres_per_gram(builder);
    double low, high, sum;
    int n = 2;

    loop->density_mm = density_mm(builder, gauge);
    loop->width_mm = loop_from_width_mm(
        builder_value(builder, gauge->washed ? "loop_kw_washed" : "loop_kw_unwashed"),
        gauge->per_in / MM_PER_IN);
    low = fmin(loop->density_mm, loop->width_mm);
    high = fmax(loop->density_mm, loop->width_mm);
    sum = loop->density_mm + loop->width_mm;
    loop->thickness_mm = (double)NAN;
    if (isfinite(per_gram)) {
        double diameter =
            loop_yarn_diameter_mm(per_gram, builder_value(builder, "yarn_packing_g_per_cm3"));

        loop->thickness_mm = loop_from_thickness_mm(
            gauge->per_in / MM_PER_IN, gauge->rows_per_in / MM_PER_IN, diameter,
            builder_value(builder, "loop_thickness_widths"),
            builder_value(builder, "loop_thickness_rows"),
            builder_value(builder, "loop_thickness_diameters"));
        low = fmin(low, loop->thickness_mm);
        high = fmax(high, loop->thickness_mm);
        sum += loop->thickness_mm;
        n++;
    }
    loop->spread_part = (high - low) / (sum / n);
}

static void loop_of_two_yarns(struct builder *builder, const struct given_unravelled *row,
                              struct plan_loop *loop)
{
    double length_mm[2] = {rational_double(row->length_in[0]) * MM_PER_IN,
                           rational_double(row->length_in[1]) * MM_PER_IN};
    double slack = 0.0;
    int status = loop_from_two_yarns(row->row_sts, row->yarn_sts, length_mm,
                                     builder->piece->gauge.stitch_width_mm, &loop->loop_mm, &slack);
    struct arena *arena = builder->work->arena;

    loop->method = LOOP_FROM_TWO_YARNS;
    loop->error_part = builder_value(builder, "loop_error_two_yarns");
    if (loop->slack_origin != SLACK_GIVEN && status >= 0) {
        loop->slack_origin = SLACK_MEASURED;
        loop->slack_ratio = slack;
    }
    if (status == -3)
        builder_fault(builder, DIAG_LOOP_UNSOLVED, row->at,
                      arena_printf(arena, "%d and %d stitches do not make up a row of %d.",
                                   row->yarn_sts[0], row->yarn_sts[1], row->row_sts),
                      "Count the stitches of each yarn in that row again.");
    else if (status == -1)
        builder_fault(builder, DIAG_LOOP_UNSOLVED, row->at,
                      "That row has as many stitches of one yarn as of the other, so stitch and "
                      "strand cannot be told apart.",
                      "Unravel an uneven row, such as 28 and 12.");
    else if (status < 0 || slack < 0.9 || slack > 1.6)
        builder_fault(
            builder, DIAG_LOOP_UNSOLVED, row->at,
            status < 0 ? "These lengths would need a stitch or a strand of no length at all."
                       : arena_printf(arena,
                                      "These lengths would make the strands %.2f times as long as "
                                      "the stitches they pass; 1.0 to 1.3 is usual.",
                                      slack),
            "Measure both yarns again, pulled straight but not stretched, and check which is which.");
}

/* Half a step of her scale, read from how finely she wrote the weight, with the ball band's error. */
static double weighing_error(const struct builder *builder, const struct given_weight *weight)
{
    double step_g = weight->mass_g.den == 1 ? builder_value(builder, "scale_step_g")
                                            : builder_value(builder, "scale_step_g") / 10.0;

    return hypot(step_g / 2.0 / rational_double(weight->mass_g),
                 builder_value(builder, "ball_length_error"));
}

static void loop_of_weight(struct builder *builder, const struct given_weight *weight,
                           double width_mm, double float_each, struct plan_loop *loop, double *out_mm)
{
    double per_gram = metres_per_gram(builder);

    loop->method = LOOP_FROM_WEIGHT;
    loop->error_part = weighing_error(builder, weight);
    if (!isfinite(per_gram)) {
        builder_fault(builder, DIAG_LOOP_UNSOLVED, weight->at,
                      "A swatch weight says how much yarn is in a stitch only with a ball's length.",
                      "Add ball = 50 g, 210 m (from the ball band) to each yarn.");
        return;
    }
    if (loop_from_weight_mm(rational_double(weight->mass_g), per_gram,
                            (double)weight->columns * weight->rows, float_each, width_mm,
                            loop->slack_ratio, out_mm) < 0)
        builder_fault(builder, DIAG_LOOP_UNSOLVED, weight->at,
                      "That weight is too little for so many stitches: the strands alone take more.",
                      "Weigh again without border and tails, and check the ball's length.");
}

/* A measure that disagrees with the gauge by half is a slip of tape or scale. */
static void judge_loop(struct builder *builder, struct place at)
{
    const struct plan_loop *loop = &builder->piece->loop;
    double ratio = loop->loop_mm / loop->density_mm;

    if (builder->failed || (ratio > 0.6 && ratio < 1.6))
        return;
    builder_fault(builder, DIAG_LOOP_UNSOLVED, at,
                  arena_printf(builder->work->arena,
                               "That makes %.1f mm of yarn in a stitch; at this gauge about %.1f mm "
                               "is usual.",
                               loop->loop_mm, loop->density_mm),
                  "Check the length or weight, its unit, and the number of stitches.");
}

static void own_loop(struct builder *builder)
{
    const struct project *project = builder->project;
    const struct swatch *swatch = &project->swatch;
    const struct swatch *plain = &project->swatch_plain;
    struct plan_piece *piece = builder->piece;
    struct plan_loop *loop = &piece->loop;

    if (swatch->unravelled.given && swatch->unravelled.stranded) {
        loop_of_two_yarns(builder, &swatch->unravelled, loop);
        judge_loop(builder, swatch->unravelled.at);
    } else if (swatch->unravelled.given || plain->unravelled.given) {
        const struct given_unravelled *row =
            swatch->unravelled.given ? &swatch->unravelled : &plain->unravelled;

        loop->method = LOOP_FROM_PLAIN_ROW;
        loop->error_part = builder_value(builder, "loop_error_measured");
        loop->loop_mm = rational_double(row->length_in[0]) * MM_PER_IN / row->row_sts;
        judge_loop(builder, row->at);
    } else if (swatch->weight.given || plain->weight.given) {
        const struct given_weight *weight = swatch->weight.given ? &swatch->weight : &plain->weight;

        loop_of_weight(builder, weight, piece->gauge.stitch_width_mm,
                       swatch->weight.given ? 1.0 : 0.0, loop, &loop->loop_mm);
        judge_loop(builder, weight->at);
    } else {
        loop->method = LOOP_FROM_GAUGE;
        loop->error_part =
            fmax(builder_value(builder, "loop_error_gauge"), loop->spread_part / 2.0);
        loop->loop_mm = loop->density_mm;
    }
    loop->plain_loop_mm = loop->method == LOOP_FROM_GAUGE
                              ? density_mm(builder, &piece->plain_gauge)
                              : loop->loop_mm;
}

/* Her own hand, moved to another gauge: what she measured differs from the gauge rule as much. */
static void try_loop(struct builder *builder)
{
    const struct plan_loop *own = &builder->own->loop;
    struct plan_loop *loop = &builder->piece->loop;

    loop->method = own->method;
    loop->error_part = fmax(own->error_part, builder_value(builder, "loop_error_gauge"));
    loop->loop_mm = loop->density_mm * own->loop_mm / own->density_mm;
    loop->plain_loop_mm = loop->loop_mm * own->plain_loop_mm / own->loop_mm;
    loop->slack_ratio = own->slack_ratio;
    loop->slack_origin = own->slack_origin;
}

void plan_loop_set(struct builder *builder)
{
    const struct project *project = builder->project;
    struct plan_loop *loop = &builder->piece->loop;
    bool measured = project->swatch.unravelled.given && project->swatch.unravelled.stranded;

    loop->slack_origin = project->slack.given ? SLACK_GIVEN : SLACK_TABLE;
    if (project->slack.given)
        loop->slack_ratio = 1.0 + rational_double(project->slack.ratio);
    else if (!measured) /* else the row of the swatch says it */
        loop->slack_ratio = builder_value(builder, "slack_default");
    cross_checks(builder, loop);
    if (builder->try_at)
        try_loop(builder);
    else
        own_loop(builder);
}

/* The next hundredth that is larger: 0.14 of 0.1398, 0.15 of 0.14. */
static double hundredth_above(double value)
{
    return (floor(100 * value) + 1) / 100;
}

void plan_limit_set(struct builder *builder)
{
    const struct project *project = builder->project;
    bool child = project->child.given && project->child.value;
    struct plan_piece *piece = builder->piece;
    int64_t leave;

    if (project->catch_at.given) {
        builder->limit_in = project->catch_at.in;
        builder->limit_at = project->catch_at.at;
        piece->limit_catch_at = true;
        leave = gauge_catch_at_sts(builder->limit_in, builder->per_in);
    } else {
        builder->limit_in =
            project->leave_up_to.given
                ? project->leave_up_to.in
                : builder_exact(builder, child ? "float_limit_child_in" : "float_limit_in");
        builder->limit_at =
            project->leave_up_to.given ? project->leave_up_to.at : project->swatch.at;
        leave = gauge_leave_up_to_sts(builder->limit_in, builder->per_in);
    }
    piece->limit_in = rational_double(builder->limit_in);
    builder->leave_sts = (int)leave;
    if (leave >= 1)
        return;
    builder_fault(builder, DIAG_LIMIT_SMALL, builder->limit_at,
                  arena_printf(builder->work->arena,
                               "At %.4g stitches to the inch, a limit of %.4g in (%.3g cm) is less than "
                               "one stitch.",
                               piece->gauge.per_in, piece->limit_in, piece->limit_in * 2.54),
                  arena_printf(builder->work->arena, "Write a limit of %.2f in (%.2f cm) or more.",
                               hundredth_above(1.0 / piece->gauge.per_in),
                               hundredth_above(2.54 / piece->gauge.per_in)));
}
