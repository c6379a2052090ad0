/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * One piece at one gauge: the rooms of the plan in the order they are called.
 */
#include "builder.h"

#include <math.h>

#include "base/arena.h"

static int main_yarn(const struct project *project)
{
    if (project->cast_on.yarn.given)
        return project->cast_on.yarn.index;
    for (int i = 0; i < project->nyarns; i++)
        if (!project->yarns[i].duplicate_over.given)
            return i;
    return 0;
}

static void sum_up(struct builder *builder)
{
    struct plan_piece *piece = builder->piece;
    const struct plan_band *first = piece->bands;
    double half = piece->gauge.gauge.stitches.half_width;

    for (int i = 0; i < piece->nbands; i++) {
        const struct plan_band *band = &piece->bands[i];

        piece->bands_height_in += band->height_in;
        piece->catches += band->catches_piece;
        piece->catches_fewest += band->worked_fewest * band->upwards;
        piece->over_limit += band->worked_over_limit * band->upwards;
        if (band->worked_longest_sts > piece->longest_sts)
            piece->longest_sts = band->worked_longest_sts;
    }
    piece->longest_in = piece->longest_sts / piece->gauge.per_in;
    piece->too_long = piece->over_limit > 0;
    piece->very_long = piece->longest_sts >= builder_threshold(builder, "float_long_stitches");
    piece->finished_low_in = first->finished_in / (1.0 + half);
    piece->finished_high_in = half < 1.0 ? first->finished_in / (1.0 - half) : (double)NAN;
}

bool builder_build_piece(struct builder *builder)
{
    static void (*const stages[])(struct builder *) = {
        plan_gauge_set,   plan_fit_gauge,   plan_loop_set,   plan_limit_set,  plan_bands_size,
        plan_cast_on_set, plan_steps_set,   plan_fit_say,    plan_sewn_set,   plan_bands_fill,
        plan_yarns_set,   plan_range_set,  plan_stretch_set, plan_borders_set, plan_centre_set, plan_fronts_set,
    };

    builder->part_count = arena_alloc(builder->work->arena, (size_t)builder->project->nparts,
                                      sizeof *builder->part_count);
    builder->rest_count = arena_alloc(builder->work->arena, (size_t)builder->project->nparts,
                                      sizeof *builder->rest_count);
    builder->fits = arena_alloc(builder->work->arena, (size_t)builder->project->nparts,
                                sizeof *builder->fits);
    builder->main_yarn = main_yarn(builder->project);
    for (size_t i = 0; i < sizeof stages / sizeof *stages; i++) {
        stages[i](builder);
        if (builder->failed)
            return false;
    }
    sum_up(builder);
    return true;
}

enum float_verdict builder_verdict(const struct plan_piece *own, const struct plan_piece *there)
{
    if (!there->too_long)
        return VERDICT_NONE_LONG;
    if (!own->too_long)
        return VERDICT_TOO_LONG;
    return there->longest_in > own->longest_in ? VERDICT_LONGER : VERDICT_NOT_LONGER;
}
