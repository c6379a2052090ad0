/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What she measured of the yarn, as lengths with their errors.
 */
#include "loop_parts.h"

#include <math.h>

#include "base/arena.h"

static const double MM_PER_IN = 25.4; /* exact by definition */
static const double MM_PER_M = 1000.0;

/* Metres per gram of the knitted yarns that say it, as much length of one as of the other: it is
 * grams per metre of which the mean is taken. NaN if none does. */
double measured_metres_per_gram(const struct builder *builder)
{
    const struct project *project = builder->project;
    double grams = 0.0;
    int n = 0;

    if (builder->try_at && builder->try_at->ball.given)
        return rational_double(
            rational_div(builder->try_at->ball.length_m, builder->try_at->ball.mass_g));
    for (int i = 0; i < project->nyarns; i++) {
        const struct yarn *yarn = &project->yarns[i];

        if (yarn->duplicate_over.given || !yarn->ball.given)
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

    if (scale->given)
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
    double per_gram = band->given ? rational_double(rational_div(band->length_m, band->mass_g))
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

bool measured_any(const struct swatch *swatch)
{
    for (int i = 0; i < SWATCH_TIMES_MAX; i++)
        if (swatch->unravelled[i].given || swatch->marked[i].given || swatch->weight[i].given ||
            swatch->weighed[i].given)
            return true;
    return false;
}

void measured_add(struct measured *all, const struct swatch *swatch, int group)
{
    all->entry.swatch = swatch;
    for (int i = 0; i < SWATCH_TIMES_MAX && !all->builder->failed; i++) {
        all->entry.nth = i + 1;
        if (swatch->unravelled[i].given && swatch->unravelled[i].stranded)
            add_stranded_row(all, &swatch->unravelled[i]);
        else if (swatch->unravelled[i].given)
            add_plain_length(all, &swatch->unravelled[i], group, LOOP_FROM_PLAIN_ROW);
        if (swatch->marked[i].given)
            add_plain_length(all, &swatch->marked[i], group, LOOP_FROM_MARKED);
        if (swatch->weight[i].given)
            add_weight(all, swatch, &swatch->weight[i], group);
        if (swatch->weighed[i].given)
            add_ball_weighed(all, swatch, &swatch->weighed[i], group);
    }
}

struct measured measured_open(struct builder *builder)
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
