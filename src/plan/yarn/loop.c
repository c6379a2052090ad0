/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Yarn in a stitch and slack in a float: from all she measured, as lengths with their errors and their
 * fit, or from the gauge alone.
 */
#include "loop_parts.h"

#include <gsl/gsl_cdf.h>
#include <math.h>

#include "base/arena.h"

static const double MM_PER_IN = 25.4; /* exact by definition */
static const double MM_PER_M = 1000.0;

/* --- what she measured ------------------------------------------------------------------------- */

/* Metres per gram of the knitted yarns that say it, as much length of one as of the other: it is
 * grams per metre of which the mean is taken. NaN if none does. */
static double measured_metres_per_gram(const struct builder *builder)
{
    const struct project *project = builder->project;
    double grams = 0.0;
    int n = 0;

    if (builder->try_at && rational_is_value(builder->try_at->ball.mass_g))
        return rational_double(
            rational_div(builder->try_at->ball.length_m, builder->try_at->ball.mass_g));
    for (int i = 0; i < project->nyarns; i++) {
        const struct yarn *yarn = &project->yarns[i];

        if (yarn->duplicate_over.index >= 0 || !rational_is_value(yarn->ball.mass_g))
            continue;
        grams += rational_double(rational_div(yarn->ball.mass_g, yarn->ball.length_m));
        n++;
    }
    return n > 0 ? n / grams : (double)NAN;
}
/* One length more of the entry that was begun last. */
static void add_observation(struct measured *all, struct loop_observation one, int yarn)
{
    if (all->count == LOOP_FIT_OBSERVATIONS_MAX)
        return;
    all->list[all->count] = one;
    all->from[all->count] = all->entry;
    all->from[all->count++].yarn = yarn;
}

/* One entry of the swatch more: what the plan says of where the figure comes from. */
static void begin_entry(struct measured *all, enum loop_method method, struct place at)
{
    all->method = all->ways++ == 0 ? method : LOOP_FROM_SEVERAL;
    all->entry.method = method;
    all->entry.at = at;
    all->entry.ball = NULL;
}

static double taped_sd(const struct measured *all, double length_mm)
{
    builder_value(all->builder, "tape_step_in"); /* now figures rest on these */
    builder_value(all->builder, "freed_yarn_scatter");
    builder_value(all->builder, "freed_yarn_pull");
    return hypot(all->tape_sd_mm, all->scatter_sd * length_mm);
}

static void add_stranded_row(struct measured *all, const struct given_unravelled *row)
{
    double width_mm = all->builder->piece->gauge.stitch_width_mm;

    if ((long)row->yarn_sts[0] + row->yarn_sts[1] != row->row_sts) {
        builder_fault(all->builder, DIAG_LOOP_UNSOLVED, row->at,
                      arena_printf(all->builder->work->arena,
                                   "%d and %d stitches do not make up a row of %d.",
                                   row->yarn_sts[0], row->yarn_sts[1], row->row_sts),
                      "Count the stitches of each yarn in that row again.");
        return;
    }
    all->all_even = (all->ways == 0 || all->all_even) && row->yarn_sts[0] == row->yarn_sts[1];
    begin_entry(all, LOOP_FROM_TWO_YARNS, row->at);
    for (int i = 0; i < 2; i++) {
        double length_mm = rational_double(row->length_in[i]) * MM_PER_IN;

        add_observation(all,
                        (struct loop_observation){
                            .stitches = row->yarn_sts[i],
                            .float_mm = (row->row_sts - row->yarn_sts[i]) * width_mm,
                            .length_mm = length_mm,
                            .sd_mm = taped_sd(all, length_mm),
                            .by_tape = true},
                        row->yarn[i].index);
    }
}

/* A plain row; or a marked length, whose last stitch may be begun or not. */
static void add_plain_length(struct measured *all, const struct given_unravelled *row, int group,
                             enum loop_method method)
{
    double length_mm = rational_double(row->length_in[0]) * MM_PER_IN;
    double sd_mm = taped_sd(all, length_mm);

    if (method == LOOP_FROM_MARKED)
        sd_mm = hypot(sd_mm, length_mm / row->row_sts / sqrt(12.0));
    all->all_even = false;
    begin_entry(all, method, row->at);
    add_observation(all,
                    (struct loop_observation){.group = group,
                                              .stitches = row->row_sts,
                                              .length_mm = length_mm,
                                              .sd_mm = sd_mm,
                                              .by_tape = true},
                    row->yarn[0].index);
}

double plan_scale_step_g(const struct builder *builder, const struct given_grams *scale,
                         struct rational mass_g, struct rational unit_g)
{
    double step = builder_value(builder, "scale_step_g"); /* of a weight without a fraction */
    int64_t part = rational_div(mass_g, unit_g).den;

    if (rational_is_value(scale->g))
        return rational_double(scale->g);
    if (part > 1)
        step = fmin(step, 10 % part == 0 ? 0.1 : 100 % part == 0 ? 0.01 : 1.0 / (double)part);
    return step * rational_double(unit_g);
}

static bool has_per_gram(struct measured *all, double per_gram, struct place at, const char *what)
{
    if (isfinite(per_gram))
        return true;
    builder_fault(all->builder, DIAG_LOOP_UNSOLVED, at, what,
                  "Add ball = 50 g, 210 m (from the ball band) to each yarn.");
    return false;
}

static void add_weight(struct measured *all, const struct swatch *swatch,
                       const struct given_weight *weight, int group)
{
    struct builder *builder = all->builder;
    double stitches = (double)weight->columns * weight->rows;
    double per_gram = measured_metres_per_gram(builder);
    double mm = rational_double(weight->mass_g) * per_gram * MM_PER_M;
    double step_mm = plan_scale_step_g(builder, &swatch->scale, weight->mass_g, weight->unit_g) *
                     per_gram * MM_PER_M;

    if (!has_per_gram(all, per_gram, weight->at,
                      "A swatch weight says how much yarn is in a stitch only with a ball's "
                      "length."))
        return;
    all->all_even = false;
    begin_entry(all, LOOP_FROM_WEIGHT, weight->at);
    add_observation(all,
                    (struct loop_observation){
                        .group = group,
                        .stitches = stitches,
                        .float_mm = swatch == &builder->project->swatch
                                        ? stitches * builder->piece->gauge.stitch_width_mm
                                        : 0.0,
                        .length_mm = mm,
                        .sd_mm = hypot(step_mm / sqrt(12.0),
                                       mm * builder_may_be_out(builder, "swatch_weight_error")),
                        .by_scale = true},
                    -1);
}

/* Two weighings: half a step of each is lost. */
static void add_ball_weighed(struct measured *all, const struct swatch *swatch,
                             const struct given_weighed *ball, int group)
{
    struct builder *builder = all->builder;
    const struct ball *band = &builder->project->yarns[ball->yarn.index].ball;
    double per_gram = rational_is_value(band->mass_g) ? rational_double(rational_div(band->length_m, band->mass_g))
                                  : (double)NAN;
    double grams = rational_double(rational_sub(ball->before_g, ball->after_g));
    double step_g = fmin(plan_scale_step_g(builder, &swatch->scale, ball->before_g, ball->before_unit_g),
                         plan_scale_step_g(builder, &swatch->scale, ball->after_g, ball->after_unit_g));

    if (!has_per_gram(all, per_gram, ball->at,
                      "A weighed ball says how much yarn is in a stitch only with its length."))
        return;
    all->all_even = false;
    begin_entry(all, LOOP_FROM_BALL, ball->at);
    all->entry.ball = ball;
    add_observation(all,
                    (struct loop_observation){
                        .group = group,
                        .stitches = ball->yarn_sts,
                        .float_mm = (ball->all_sts - ball->yarn_sts) *
                                    builder->piece->gauge.stitch_width_mm,
                        .length_mm = grams * per_gram * MM_PER_M,
                        .sd_mm = step_g / sqrt(6.0) * per_gram * MM_PER_M,
                        .by_scale = true},
                    ball->yarn.index);
}

static void measured_add(struct measured *all, const struct swatch *swatch, int group)
{
    all->entry.swatch = swatch;
    for (int i = 0; i < SWATCH_TIMES_MAX && !all->builder->failed; i++) {
        all->entry.nth = i + 1;
        if (swatch->unravelled[i].row_sts > 0 && swatch->unravelled[i].stranded)
            add_stranded_row(all, &swatch->unravelled[i]);
        else if (swatch->unravelled[i].row_sts > 0)
            add_plain_length(all, &swatch->unravelled[i], group, LOOP_FROM_PLAIN_ROW);
        if (swatch->marked[i].row_sts > 0)
            add_plain_length(all, &swatch->marked[i], group, LOOP_FROM_MARKED);
        if (swatch->weight[i].rows > 0)
            add_weight(all, swatch, &swatch->weight[i], group);
        if (swatch->weighed[i].all_sts > 0)
            add_ball_weighed(all, swatch, &swatch->weighed[i], group);
    }
}

static struct measured measured_open(struct builder *builder)
{
    struct arena *arena = builder->work->arena;
    struct measured all = {.builder = builder};

    all.list = arena_alloc(arena, LOOP_FIT_OBSERVATIONS_MAX, sizeof *all.list);
    all.from = arena_alloc(arena, LOOP_FIT_OBSERVATIONS_MAX, sizeof *all.from);
    all.scatter_sd =
        likely_sd_of_nine_in_ten(builder_threshold(builder, "freed_yarn_scatter"));
    all.tape_sd_mm = builder_threshold(builder, "tape_step_in") * MM_PER_IN / sqrt(12.0);
    return all;
}

/* --- each yarn its own stitch ------------------------------------------------------------------ */

/* Each yarn its own stitch, where the measurements name them and differ by more than chance:
 * the drop of chi-square by a group more, in errors as wide as what is still left over.
 * group_of[nyarns] is told. Returned: the fit; NULL where all are alike. */
static struct loop_fit *yarns_fit(const struct measured *all, int *group_of)
{
    const struct plan_loop *loop = &all->builder->piece->loop;
    struct arena *arena = all->builder->work->arena;
    struct loop_observation *list = arena_alloc(arena, (size_t)all->count, sizeof *list);
    int *yarn = arena_alloc(arena, (size_t)all->count, sizeof *yarn);
    struct loop_fit *fit = arena_alloc(arena, 1, sizeof *fit);
    int ngroups, more;

    for (int i = 0; i < all->count; i++) {
        list[i] = all->list[i];
        yarn[i] = all->from[i].yarn;
    }
    more = loop_fit_split(list, yarn, all->count, GROUP_YARNS, group_of,
                          all->builder->project->nyarns, &ngroups);
    if (more < 1 || loop->fit->freedom < more ||
        loop_fit_solve(list, all->count, ngroups, &loop->errors, fit) < 0 ||
        fit->slack_told != loop->fit->slack_told ||
        gsl_cdf_chisq_Q((loop->fit->chi_square - fit->chi_square) / loop_fit_excess(fit), more) >
            builder_threshold(all->builder, "loop_by_yarn_chance"))
        return NULL;
    return fit;
}

/* How far to trust a stitch, where each yarn has its own: the one known worst. */
static double worst_error(const struct loop_fit *by_yarn, const int *group_of, int nyarns)
{
    double worst = 0.0;

    for (int i = 0; i < nyarns; i++)
        if (group_of[i] >= 0)
            worst = fmax(worst, by_yarn->covariance[group_of[i]][group_of[i]]);
    return likely_nine_in_ten(sqrt(worst));
}

/* by_yarn NULL: alike, or nothing measured. */
static void yarns_set(struct builder *builder, const struct loop_fit *by_yarn, const int *group_of)
{
    struct plan_loop *loop = &builder->piece->loop;
    int nyarns = builder->project->nyarns;
    struct plan_yarn_loop *yarn = arena_alloc(builder->work->arena, (size_t)nyarns, sizeof *yarn);

    for (int i = 0; i < nyarns; i++) {
        yarn[i] = (struct plan_yarn_loop){loop->loop_mm, loop->plain_loop_mm, loop->fit, 0};
        if (!by_yarn || group_of[i] < 0)
            continue;
        yarn[i].fit = by_yarn;
        yarn[i].group = group_of[i];
        yarn[i].loop_mm = by_yarn->loop_mm[group_of[i]];
        yarn[i].plain_loop_mm *= yarn[i].loop_mm / loop->loop_mm;
        loop->by_yarn = true;
    }
    loop->yarn = yarn;
    if (loop->by_yarn)
        loop->error_part = worst_error(by_yarn, group_of, nyarns);
}

/* --- the fit of all, and what the plan takes from it -------------------------------------------- */

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
    else if (loop->slack_origin == SLACK_TABLE) {
        loop->slack_ratio = loop->errors.slack;
        builder_rest_on(all->builder, all->builder->project->slack.allowance);
    }
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

/* Fits, judges, and tells the loop of the piece. */
static void measured_fit(struct measured *all, bool two_fabrics, const struct plan_gauge *gauge)
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

/* --- from the gauge, and the whole --------------------------------------------------------------- */

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
        if (swatch->unravelled[i].row_sts > 0 && swatch->unravelled[i].stranded)
            return true;
    return false;
}

static void set_errors(const struct builder *builder, struct plan_loop *loop)
{
    const struct project *project = builder->project;
    bool given = !project->slack.allowance;

    loop->errors = (struct loop_fit_errors){
        .pull_sd = likely_sd_of_nine_in_ten(builder_threshold(builder, "freed_yarn_pull")),
        .ball_sd = builder_may_be_out(builder, "ball_length_error"),
        .slack = 1.0 + rational_double(project->slack.ratio),
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
    bool stranded = swatch_measures_yarn(&project->swatch);
    bool plain = swatch_measures_yarn(&project->swatch_plain);

    if (!stranded && !plain) {
        loop->method = LOOP_FROM_GAUGE;
        loop->error_part = loop->gauge_error_part;
        loop->loop_mm = loop->density_mm;
        loop->plain_loop_mm = loop_density_mm(builder, &piece->plain_gauge);
        loop->slack_ratio = loop->errors.slack;
        builder_rest_on(builder, project->slack.allowance);
        yarns_set(builder, NULL, NULL);
        return;
    }
    measured_add(&all, &project->swatch, GROUP_STRANDED);
    measured_add(&all, &project->swatch_plain, stranded ? GROUP_PLAIN : GROUP_STRANDED);
    if (builder->failed)
        return;
    if (all.all_even && project->slack.allowance) {
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
    if (!rational_is_value(builder->try_at->ball.mass_g)) /* else other balls */
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
    loop->slack_origin = builder->project->slack.allowance ? SLACK_TABLE : SLACK_GIVEN;
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
