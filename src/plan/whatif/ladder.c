/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The ladder: the same chart and measure at one gauge after another, from fine yarn to heavy, and the
 * gauges at which the number of catches changes.
 *
 * Each rung is a try with the fewest catches. Its stitches have the proportion of hers; its yarn is
 * as much thicker as its stitches are wider, so a ball of the same weight is shorter by the square.
 */
#include "plan/builder.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/arena.h"

static const char ASSUMED_WEIGHT[] = "Medium";

/* A gauge of the ladder before it is built. */
struct rung_gauge {
    struct rational per_in;
    const char *name; /* "": no weight has it; NULL: not looked up yet */
    bool own;
};

/* --- the gauges ----------------------------------------------------------------------------- */

static const char *name_of(const struct builder *builder, struct rational per_in)
{
    const char *name = plan_weight_name(builder, per_in);

    return name ? name : "";
}

static int finer_first(const void *a, const void *b)
{
    return rational_compare(((const struct rung_gauge *)b)->per_in,
                            ((const struct rung_gauge *)a)->per_in);
}

/* Hardly another gauge. */
static bool is_near_number(double a, double b)
{
    const double near = 0.02;

    return fabs(a / b - 1.0) < near;
}

/* Hers stands for the middle of a yarn weight so near. */
static bool is_near(struct rational a, struct rational b)
{
    return is_near_number(rational_double(a), rational_double(b));
}

/* Those she gave, else those of the yarn weights; and her own, once. */
static int list_gauges(const struct builder *builder, struct rung_gauge *list, bool own_known)
{
    const struct ladder_gauges *asked = &builder->project->ladder;
    const struct table *weights = tables_find(builder->work->tables, "yarn_weights");
    int n = 0, kept = 0;

    for (int i = 0; i < asked->stitches.count; i++)
        list[n++].per_in = rational_div(asked->stitches.value[i], asked->over.in);
    for (int row = 0; asked->stitches.count == 0 && weights && row < weights->nrows &&
                      n < PROJECT_COUNTS_MAX;
         row++) {
        struct rational middle = plan_weight_per_in(weights, row);

        if (!own_known || !is_near(middle, builder->per_in))
            list[n++] = (struct rung_gauge){middle, table_field(weights, row, "name"), false};
    }
    if (own_known)
        list[n++].per_in = builder->per_in;
    qsort(list, (size_t)n, sizeof *list, finer_first);
    for (int i = 0; i < n; i++) {
        if (!rational_is_value(list[i].per_in) || rational_sign(list[i].per_in) <= 0 ||
            (kept > 0 && rational_compare(list[i].per_in, list[kept - 1].per_in) == 0))
            continue;
        list[kept] = list[i];
        if (!list[kept].name)
            list[kept].name = name_of(builder, list[i].per_in);
        list[kept].own = own_known && rational_compare(list[kept].per_in, builder->per_in) == 0;
        kept++;
    }
    return kept;
}

/* --- the rungs ------------------------------------------------------------------------------ */

/* The project with balls of another yarn's length, none of it in hand, and the fewest catches. */
static const struct project *project_at(struct builder *builder, struct rational times)
{
    struct arena *arena = builder->work->arena;
    struct project *copy = arena_alloc(arena, 1, sizeof *copy);
    struct yarn *yarns = arena_alloc(arena, (size_t)builder->project->nyarns, sizeof *yarns);
    bool same = rational_compare(times, rational_whole(1)) == 0;

    *copy = *builder->project;
    copy->placement = (struct given_choice){.value = PLACEMENT_QUICK};
    copy->spare_catches = (struct given_choice){.value = false};
    for (int i = 0; i < copy->nyarns; i++) {
        struct ball *ball = &yarns[i].ball;

        yarns[i] = copy->yarns[i];
        if (same)
            continue;
        yarns[i].have = (struct given_have){0};
        ball->length_m = rational_mul(ball->length_m, rational_mul(times, times));
        if (!rational_is_value(ball->length_m))
            *ball = (struct ball){0};
    }
    copy->yarns = yarns;
    return copy;
}

static void build_rung(struct builder *own, const struct rung_gauge *gauge, struct plan_rung *rung)
{
    struct rational times = rational_div(gauge->per_in, own->per_in);
    struct rational rows_per_in = rational_mul(own->rows_per_in, times);
    struct variant changed = {.project = project_at(own, times),
                              .at = plan_variant_gauge(own->work, gauge->name, gauge->per_in, rows_per_in)};

    rung->own = gauge->own;
    rung->at.name = gauge->name;
    if (rational_is_value(rows_per_in))
        plan_variant_try(own, &changed, gauge->name, &rung->at);
    else
        rung->at.why = "This gauge holds finer fractions than can be kept exactly.";
}

/* --- gauges at which the catches change ------------------------------------------------------- */

static int leave_at(const struct builder *builder, struct rational per_in)
{
    int64_t leave = builder->piece->limit_catch_at
                        ? gauge_catch_at_sts(builder->limit_in, per_in)
                        : gauge_leave_up_to_sts(builder->limit_in, per_in);

    return leave < 1 ? 1 : (int)leave;
}

/* From the finest rung to the heaviest, one step to each number of catches. */
static int add_steps(const struct builder *builder, int band_index, const struct rung_gauge *list, int n,
                     bool own_known, struct plan_ladder_step *steps)
{
    const struct plan_band *band = &builder->piece->bands[band_index];
    double limit_in = rational_double(builder->limit_in);
    double finest = rational_double(list[0].per_in), heaviest = rational_double(list[n - 1].per_in);
    int fine = leave_at(builder, list[0].per_in), heavy = leave_at(builder, list[n - 1].per_in);
    int count = 0;

    for (int m = fine; m >= heavy; m--) {
        int64_t catches = plan_band_fewest(band, m);
        double from = m == heavy ? heaviest : m / limit_in;
        double to = m == fine ? finest : (m + 1) / limit_in;

        if (count == 0 || steps[count - 1].catches != catches)
            steps[count++] = (struct plan_ladder_step){
                .band = band_index, .to_per_in = to, .catches = catches};
        steps[count - 1].from_per_in = from;
        steps[count - 1].own |= own_known && m == band->leave_sts;
    }
    return count;
}

static void set_steps(struct builder *builder, struct plan_ladder *ladder,
                      const struct rung_gauge *list, int n)
{
    const struct plan_piece *piece = builder->piece;
    int each = leave_at(builder, list[0].per_in) - leave_at(builder, list[n - 1].per_in) + 1;
    struct plan_ladder_step *steps = arena_alloc(
        builder->work->arena, (size_t)each * (size_t)piece->nbands + 1, sizeof *steps);

    for (int i = 0; i < piece->nbands; i++)
        ladder->nsteps +=
            add_steps(builder, i, list, n, ladder->own_known, steps + ladder->nsteps);
    ladder->steps = steps;
}

/* --- the whole -------------------------------------------------------------------------------- */

static void sum_up(struct plan_ladder *ladder)
{
    bool free = true;
    double own_per_in = 0.0;

    ladder->first_longer = -1;
    ladder->own = ladder->free_to = ladder->heaviest = ladder->finest = ladder->heavier = -1;
    for (int i = 0; i < ladder->nrungs; i++) {
        const struct plan_rung *rung = &ladder->rungs[i];

        if (rung->own) {
            ladder->own = i;
            own_per_in = rung->at.piece.gauge.per_in;
        }
        if (!rung->at.fits)
            continue;
        if (ladder->finest < 0)
            ladder->finest = i;
        ladder->heaviest = i;
        free = free && !rung->at.piece.too_long;
        if (free)
            ladder->free_to = i;
        if (ladder->own < 0 || is_near_number(rung->at.piece.gauge.per_in, own_per_in))
            continue; /* hers, or hardly another */
        if (ladder->heavier < 0)
            ladder->heavier = i;
        if (ladder->first_longer < 0 &&
            (rung->at.verdict == VERDICT_TOO_LONG || rung->at.verdict == VERDICT_LONGER))
            ladder->first_longer = i;
    }
}

void plan_ladder_set(struct builder *builder, struct plan *plan)
{
    struct arena *arena = builder->work->arena;
    struct plan_ladder *ladder;
    struct rung_gauge *list;
    struct plan_rung *rungs;

    if (!builder->project->ladder.is_there)
        return;
    ladder = arena_alloc(arena, 1, sizeof *ladder);
    list = arena_alloc(arena, PROJECT_COUNTS_MAX + 1, sizeof *list);
    ladder->own_known = builder->project->swatch.is_there;
    ladder->counts_left_out = builder->project->ladder.counts_left_out;
    ladder->by_weight = builder->project->ladder.stitches.count == 0;
    ladder->nrungs = list_gauges(builder, list, ladder->own_known);
    rungs = arena_alloc(arena, (size_t)ladder->nrungs, sizeof *rungs);
    for (int i = 0; i < ladder->nrungs; i++)
        build_rung(builder, &list[i], &rungs[i]);
    ladder->rungs = rungs;
    sum_up(ladder);
    if (ladder->nrungs > 0)
        set_steps(builder, ladder, list, ladder->nrungs);
    plan->ladder = ladder;
}

/* Nothing measured: the middle of one yarn weight, rows by the table. */
static void assume_gauge(struct work *work, struct project *project)
{
    const struct table *weights = tables_find(work->tables, "yarn_weights");
    struct swatch *swatch = &project->swatch;
    struct rational per_in = rational_whole(1), ratio;

    for (int row = 0; weights && row < weights->nrows; row++)
        if (strcmp(table_field(weights, row, "name"), ASSUMED_WEIGHT) == 0)
            per_in = plan_weight_per_in(weights, row);
    ratio = rational_make(llround(tables_value(work->tables, "gauge_rows_ratio") * 1000.0), 1000);
    swatch->over = (struct given_length){.in = rational_whole(1)};
    swatch->stitches.count = swatch->rows.count = 1;
    swatch->stitches.value[0] = per_in;
    swatch->rows.value[0] = rational_mul(per_in, ratio);
    swatch->washed = (struct given_choice){.value = true};
}

/* Counts of stitches and balls belong to a gauge, and she has said none: the rib goes by the first
 * band's stitches, plain parts go on with the count below, and the rest is left out. Returned: whether
 * anything was changed. */
static bool forget_counts(struct work *work, struct project *project)
{
    struct part *parts = arena_alloc(work->arena, (size_t)project->nparts, sizeof *parts);
    struct yarn *yarns = arena_alloc(work->arena, (size_t)project->nyarns, sizeof *yarns);
    bool changed = false;

    if (project->cast_on.rib_rounds > 0 && project->cast_on.stitches_kind == RIB_COUNT) {
        changed = true;
        project->cast_on.stitches_kind = RIB_RATIO;
        project->cast_on.ratio = (struct given_ratio){.ratio = rational_whole(1)};
    }
    for (int i = 0; i < project->nparts; i++) {
        parts[i] = project->parts[i];
        changed = changed || parts[i].on_needle.value > 0 || parts[i].stitches.value > 0;
        parts[i].on_needle.value = 0;
        parts[i].stitches.value = 0;
    }
    for (int i = 0; i < project->nyarns; i++) {
        yarns[i] = project->yarns[i];
        changed = changed || rational_is_value(yarns[i].ball.length_m);
        yarns[i].ball = (struct ball){0};
        yarns[i].have = (struct given_have){0};
    }
    project->parts = parts;
    project->yarns = yarns;
    return changed;
}

const struct project *plan_ladder_project(struct work *work, const struct project *project)
{
    struct project *copy = arena_alloc(work->arena, 1, sizeof *copy);

    *copy = *project;
    copy->ladder.is_there = true;
    if (!copy->swatch.is_there) {
        assume_gauge(work, copy);
        copy->ladder.counts_left_out = forget_counts(work, copy);
    }
    return copy;
}
