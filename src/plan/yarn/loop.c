/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Yarn in a stitch and slack in a float, from all she measured, or from the gauge alone.
 */
#include "loop_parts.h"

#include <math.h>

#include "base/arena.h"

static const double MM_PER_IN = 25.4; /* exact by definition */

double loop_density_mm(const struct builder *builder, const struct plan_gauge *gauge)
{
    double ks = builder_value(builder, gauge->washed ? "loop_ks_washed" : "loop_ks_unwashed");

    return loop_from_density_mm(ks, gauge->per_in / MM_PER_IN, gauge->rows_per_in / MM_PER_IN);
}

/* The same from gauge alone three ways; how far apart they lie is part of the stated error. */
static void cross_checks(const struct builder *builder, struct plan_loop *loop)
{
    const struct plan_gauge *gauge = &builder->piece->gauge;
    double per_gram = measured_metres_per_gram(builder);
    double low, high, sum;
    int n = 2;

    loop->density_mm = loop_density_mm(builder, gauge);
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

/* An uneven row unravelled shows the slack itself; weights show it only with the ball's length in it. */
static bool row_was_unravelled(const struct swatch *swatch)
{
    for (int i = 0; i < SWATCH_TIMES_MAX; i++)
        if (swatch->unravelled[i].given && swatch->unravelled[i].stranded)
            return true;
    return false;
}

static void set_errors(const struct builder *builder, struct plan_loop *loop)
{
    const struct project *project = builder->project;
    bool given = project->slack.given;

    loop->errors = (struct loop_fit_errors){
        .pull_sd = likely_sd_of_nine_in_ten(builder_threshold(builder, "freed_yarn_pull")),
        .ball_sd = builder_may_be_out(builder, "ball_length_error"),
        .slack = given ? 1.0 + rational_double(project->slack.ratio)
                       : builder_threshold(builder, "slack_default"),
        .slack_sd = likely_sd_of_nine_in_ten(
            builder_threshold(builder, given ? "slack_error_given" : "slack_error")),
        .slack_given = given,
        .slack_told_sd =
            likely_sd_of_nine_in_ten(builder_threshold(
                builder, row_was_unravelled(&project->swatch) ? "slack_error_row"
                                                              : "slack_error_weighed"))};
}

static void own_loop(struct builder *builder)
{
    const struct project *project = builder->project;
    struct plan_piece *piece = builder->piece;
    struct plan_loop *loop = &piece->loop;
    struct measured all = measured_open(builder);
    bool stranded = measured_any(&project->swatch), plain = measured_any(&project->swatch_plain);

    if (!stranded && !plain) {
        loop->method = LOOP_FROM_GAUGE;
        loop->error_part = loop->gauge_error_part;
        loop->loop_mm = loop->density_mm;
        loop->plain_loop_mm = loop_density_mm(builder, &piece->plain_gauge);
        loop->slack_ratio = loop->slack_origin == SLACK_GIVEN
                                ? loop->errors.slack
                                : builder_value(builder, "slack_default");
        yarns_set(builder, NULL, NULL);
        return;
    }
    measured_add(&all, &project->swatch, GROUP_STRANDED);
    measured_add(&all, &project->swatch_plain, stranded ? GROUP_PLAIN : GROUP_STRANDED);
    if (builder->failed)
        return;
    if (all.all_even && !project->slack.given) {
        builder_fault(builder, DIAG_LOOP_UNSOLVED, all.from[0].at,
                      "That row has as many stitches of one yarn as of the other, so stitch and "
                      "strand cannot be told apart.",
                      "Unravel an uneven row, such as 28 and 12, or give the slack of your strands under "
                      "[float], like this: slack = 10 %.");
        return;
    }
    measured_fit(&all, stranded && plain, stranded ? &piece->gauge : &piece->plain_gauge);
}

/* Her own hand, moved to another gauge: what she measured differs from the gauge rule as much. */
static void try_loop(struct builder *builder)
{
    const struct plan_loop *own = &builder->own->loop;
    struct plan_loop *loop = &builder->piece->loop;
    int nyarns = builder->project->nyarns;
    struct plan_yarn_loop *yarn = arena_alloc(builder->work->arena, (size_t)nyarns, sizeof *yarn);

    loop->method = own->method;
    loop->error_part = fmax(own->error_part, builder_value(builder, "loop_error_gauge"));
    loop->loop_mm = loop->density_mm * own->loop_mm / own->density_mm;
    loop->plain_loop_mm = loop->loop_mm * own->plain_loop_mm / own->loop_mm;
    loop->slack_ratio = own->slack_ratio;
    loop->slack_origin = own->slack_origin;
    loop->by_yarn = own->by_yarn;
    if (!builder->try_at->ball.given) /* else other balls */
        loop->ball_ratio = own->ball_ratio;
    for (int i = 0; i < nyarns; i++) {
        double moved = loop->loop_mm / own->loop_mm;

        yarn[i].loop_mm = own->yarn[i].loop_mm * moved;
        yarn[i].plain_loop_mm = own->yarn[i].plain_loop_mm * moved;
    }
    loop->yarn = yarn;
}

void plan_loop_set(struct builder *builder)
{
    struct plan_loop *loop = &builder->piece->loop;

    if (builder->own_gauge) {
        *loop = builder->own->loop;
        return;
    }
    loop->slack_origin = builder->project->slack.given ? SLACK_GIVEN : SLACK_TABLE;
    loop->ball_ratio = loop->excess = 1.0;
    set_errors(builder, loop);
    cross_checks(builder, loop);
    loop->gauge_error_part = fmax(builder_threshold(builder, "loop_error_gauge"),
                                  loop->spread_part / 2.0);
    if (builder->try_at)
        try_loop(builder);
    else
        own_loop(builder);
}
