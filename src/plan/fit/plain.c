/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Counts of plain parts with a measure of their own: first the nearest, then the one that is as good
 * and simpler to shape from and to.
 */
#include "plan/builder.h"

#include <math.h>

#include "base/arena.h"
#include "model/gauge/sizing.h"

/* A measure holds the edges too. */
static struct rational target_sts(const struct builder *builder, const struct part_target *target)
{
    return rational_sub(target->sts, rational_whole(builder_edges_in_measure(builder)));
}

/* A rib that goes on as the part above it has its say on that. */
static bool has_same_rib(const struct builder *builder, bool lowest)
{
    const struct cast_on *cast_on = &builder->project->cast_on;

    return lowest && cast_on->rib_rounds > 0 && cast_on->stitches_kind == RIB_SAME;
}

/* So many on the needle, less the edges. */
static int needle_count(struct builder *builder, const struct part *part)
{
    int all = part->on_needle.value, edges = builder_needle_edges(builder), inside = 0;
    int64_t count = all - edges;

    if (count < 1) {
        builder_fault(builder, DIAG_VALUE_RANGE, part->on_needle.at,
                      arena_printf(builder->work->arena,
                                   "Of these %d stitches the edges alone are %d: nothing is left for the "
                                   "part.",
                                   all, edges),
                      "Write everything on the needle: the part with its selvedge, and a steek.");
        return 1;
    }
    if (!builder->try_at)
        return (int)count;
    inside = builder_edges_in_measure(builder); /* they are in the width that stays as it is */
    count = llround((double)(count + inside) * builder->piece->plain_gauge.per_in /
                    builder->own->plain_gauge.per_in) - inside;
    return count > 0 ? (int)count : 1;
}

static void fault_count(struct builder *builder, const struct part *part, int64_t count)
{
    int edges = builder_edges_in_measure(builder);

    builder_fault(builder, DIAG_PLAN_SIZE, part->at,
                  edges > 0 && count <= 0
                      ? arena_printf(builder->work->arena,
                                     "The edges alone are %d stitches: nothing is left for this part.",
                                     edges)
                      : arena_printf(builder->work->arena, "This part would have %lld stitches.",
                                     (long long)count),
                  "Between one stitch and a million is planned: check the measure and its unit, the "
                  "ease, and the plain swatch.");
}

int plan_plain_count(struct builder *builder, const struct part *part, bool lowest)
{
    const struct cast_on *cast_on = &builder->project->cast_on;
    struct part_target target = plan_target_of(builder, part, builder->plain_per_in);
    int64_t count;

    if (part->on_needle.value > 0)
        return needle_count(builder, part);
    if (!plan_target_is_sound(builder, &target, part->at))
        return 1;
    count = rational_nearest(target_sts(builder, &target));
    if (has_same_rib(builder, lowest) && count > 0)
        count = sizing_rib_nearest(target_sts(builder, &target), cast_on->rib_knit, cast_on->rib_purl,
                                   builder->project->worked.value == WORKED_FLAT);
    if (count > 0 && count <= PLAN_STITCHES_MAX)
        return (int)count;
    fault_count(builder, part, count);
    return 1;
}

/* Of the next part below or above that has a count of its own; 0: none. */
static int count_beside(const struct builder *builder, int part, int step)
{
    const struct cast_on *cast_on = &builder->project->cast_on;

    for (int i = part + step; i >= 0 && i < builder->project->nparts; i += step)
        if (plan_part_counts_itself(builder, i))
            return builder->part_count[i];
    if (step < 0 && !builder->try_at && cast_on->rib_rounds > 0 && cast_on->stitches_kind == RIB_COUNT)
        return cast_on->stitches.value;
    return 0;
}

/* Bands that take the count (count = as below) must be able to have it; only then is it what is simple. */
static int64_t count_of(const struct builder *builder, int part, struct rational target, struct rational near)
{
    if (plan_next_taker(builder, part + 1) < builder->project->nparts)
        return plan_together_taken(builder, part, target, rational_mul(target, near));
    return sizing_plain_count(target, near, count_beside(builder, part, -1), count_beside(builder, part, 1));
}

bool plan_plain_settle(struct builder *builder)
{
    const struct project *project = builder->project;
    struct rational near = rational_millionths(builder_threshold(builder, "fit_near_ratio"));
    bool lowest = true, changed = false;

    for (int i = 0; i < project->nparts; i++) {
        const struct part *part = &project->parts[i];
        struct part_target target;
        int64_t count;

        if (!plan_part_counts_itself(builder, i))
            continue;
        if (part->kind == PART_PLAIN && part->on_needle.value == 0 && !has_same_rib(builder, lowest)) {
            target = plan_target_of(builder, part, builder->plain_per_in);
            count = count_of(builder, i, target_sts(builder, &target), near);
            if (count > 0 && count <= PLAN_STITCHES_MAX && count != builder->part_count[i]) {
                builder->part_count[i] = (int)count;
                changed = true;
            }
        }
        lowest = false;
    }
    return changed;
}
