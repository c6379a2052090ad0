/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The fit of all she measured, and what the plan takes from it.
 */
#include "loop_parts.h"

#include <math.h>

#include "base/arena.h"

static void set_from_fit(struct measured *all, struct plan_loop *loop, bool two_fabrics)
{
    const struct loop_fit *fit = loop->fit;

    loop->method = all->method;
    loop->loop_mm = fit->loop_mm[GROUP_STRANDED];
    loop->plain_group = two_fabrics ? GROUP_PLAIN : GROUP_STRANDED;
    loop->plain_loop_mm = fit->loop_mm[loop->plain_group];
    loop->ball_ratio = loop->judged->ball_ratio;
    loop->error_part = likely_nine_in_ten(sqrt(fit->covariance[GROUP_STRANDED][GROUP_STRANDED]));
    loop->slack_ratio = loop->judged->slack;
    if (loop->slack_origin != SLACK_GIVEN && fit->slack_told)
        loop->slack_origin = SLACK_MEASURED;
    else if (loop->slack_origin == SLACK_TABLE) /* the plan rests on it */
        loop->slack_ratio = builder_value(all->builder, "slack_default");
}

/* By how much the slack told is out of what can be, in its own error, nine in ten; 0: it can be. A
 * strand much shorter than its stitches would pucker the fabric, one half as long again hang in bights. */
static double slack_off(const struct builder *builder, const struct loop_fit *fit)
{
    const struct plan_loop *loop = &builder->piece->loop;
    double least = builder_threshold(builder, "slack_least");
    double most = builder_threshold(builder, "slack_most");
    double off = fmax(fmax(least - fit->slack, fit->slack - most), 0.0);
    double part = sqrt(fit->covariance[LOOP_FIT_SLACK][LOOP_FIT_SLACK]);

    if (!fit->slack_told || loop->errors.slack_given || !(off > 0.0))
        return 0.0;
    return off / (likely_nine_in_ten(part) * fit->slack);
}

/* A slack that cannot be, but by no more than it may be out, is none that was told: it is known
 * better without these measurements, and they say more of the stitch with it. */
static int fit_all(const struct measured *all, struct plan_loop *loop, struct loop_fit *fit)
{
    int status = loop_fit_solve(all->list, all->count, GROUP_YARNS, &loop->errors, fit);
    struct loop_fit_errors errors = loop->errors;
    double off;

    if (status < 0)
        return status;
    off = slack_off(all->builder, fit);
    if (!(off > 0.0 && off <= 1.0))
        return status;
    errors.slack_told_sd = 0.0;
    return loop_fit_solve(all->list, all->count, GROUP_YARNS, &errors, fit);
}

void measured_fit(struct measured *all, bool two_fabrics, const struct plan_gauge *gauge)
{
    struct builder *builder = all->builder;
    struct plan_loop *loop = &builder->piece->loop;
    struct loop_fit *fit = arena_alloc(builder->work->arena, 1, sizeof *fit);
    struct loop_fit *by_yarn;
    int *group_of =
        arena_alloc(builder->work->arena, (size_t)builder->project->nyarns, sizeof *group_of);
    int status = fit_all(all, loop, fit);
    bool impossible;

    loop->fit = fit;
    loop->observations = all->list;
    loop->nobservations = all->count;
    impossible = status < 0 || slack_off(builder, fit) > 0.0;
    if (judge_kinds_refused(all, fit, impossible))
        return;
    if (impossible) {
        judge_unsolved(all, fit, status);
        return;
    }
    by_yarn = yarns_fit(all, group_of);
    loop->judged = by_yarn ? by_yarn : fit;
    judge_left_over(all, loop->judged);
    judge_gauge(all, loop->judged, by_yarn ? group_of : NULL, gauge);
    loop_fit_widen(fit, loop->excess);
    if (by_yarn)
        loop_fit_widen(by_yarn, loop->excess);
    set_from_fit(all, loop, two_fabrics);
    yarns_set(builder, by_yarn, group_of);
}
