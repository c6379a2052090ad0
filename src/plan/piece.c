/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * One piece at one gauge: the rooms of the plan in the order they are called.
 */
#include "builder.h"

#include <math.h>

#include "base/arena.h"

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
        piece->rows_three_colours += (int64_t)band->rows_three_colours * band->upwards;
        if (band->worked_longest_sts > piece->longest_sts)
            piece->longest_sts = band->worked_longest_sts;
    }
    piece->longest_in = piece->longest_sts / piece->gauge.per_in;
    piece->too_long = piece->over_limit > 0;
    piece->very_long = piece->longest_sts >= builder_threshold(builder, "float_long_stitches");
    piece->finished_low_in = first->finished_in / (1.0 + half);
    piece->finished_high_in = half < 1.0 ? first->finished_in / (1.0 - half) : (double)NAN;
}

/* The calls in order, each with the part of the plan it belongs to. */
static const struct {
    enum piece_part part;
    void (*set)(struct builder *);
} CALLS[] = {
    {PIECE_COUNTS, plan_gauge_set},  {PIECE_COUNTS, plan_fit_gauge}, {PIECE_COUNTS, plan_loop_set},
    {PIECE_COUNTS, plan_limit_set},  {PIECE_COUNTS, plan_bands_size}, {PIECE_COUNTS, plan_cast_on_set},
    {PIECE_COUNTS, plan_steps_set},  {PIECE_COUNTS, plan_fit_say},   {PIECE_COUNTS, plan_sewn_set},
    {PIECE_BANDS, plan_bands_fill},  {PIECE_YARNS, plan_yarns_set},  {PIECE_RANGE, plan_range_set},
    {PIECE_WEAR, plan_stretch_set},  {PIECE_WEAR, plan_borders_set}, {PIECE_WEAR, plan_centre_set},
    {PIECE_WEAR, plan_fronts_set},   {PIECE_BANDS, sum_up},
};

bool builder_build_piece(struct builder *builder, unsigned parts)
{
    struct arena *arena = builder->work->arena;
    size_t nparts = (size_t)builder->project->nparts;

    builder->part_count = arena_alloc(arena, nparts, sizeof *builder->part_count);
    builder->rest_count = arena_alloc(arena, nparts, sizeof *builder->rest_count);
    builder->fits = arena_alloc(arena, nparts, sizeof *builder->fits);
    builder->main_yarn = builder->project->cast_on.yarn.index;
    for (size_t i = 0; i < sizeof CALLS / sizeof *CALLS && !builder->failed; i++)
        if (parts & CALLS[i].part)
            CALLS[i].set(builder);
    return !builder->failed;
}
