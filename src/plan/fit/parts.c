/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The counts of all parts: each band by its measure, then those that share one, then the rest. A plain
 * part with a measure of its own has first the nearest, then the one that is as good and simpler to
 * shape from and to.
 */
#include "plan/builder.h"

#include <math.h>
#include <stdlib.h>

#include "base/arena.h"
#include "model/gauge/sizing.h"

/* --- plain parts with a measure ----------------------------------------------------------------- */

/* A measure holds the edges too. */
static struct rational target_sts(const struct builder *builder, const struct part_target *target)
{
    return rational_sub(target->sts, rational_whole(builder_edges_in_measure(builder)));
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

/* Its own count: said, or the nearest its measure at the plain gauge. lowest: no count stands below it. */
static int plain_count(struct builder *builder, const struct part *part, bool lowest)
{
    struct part_target target = plan_target_of(builder, part, builder->plain_per_in);
    int64_t count;

    if (part->on_needle.value > 0)
        return needle_count(builder, part);
    if (!plan_target_is_sound(builder, &target, part->at))
        return 1;
    count = rational_nearest(target_sts(builder, &target));
    if (lowest && builder_rib_is_same(builder) && count > 0) /* the rib has its say on that */
        count = builder_rib_nearest(builder, target_sts(builder, &target));
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
        if (part->kind == PART_PLAIN && part->on_needle.value == 0 && !(lowest && builder_rib_is_same(builder))) {
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

/* --- all parts ---------------------------------------------------------------------------------- */

static void size_parts(struct builder *builder)
{
    const struct project *project = builder->project;
    struct plan_piece *piece = builder->piece;
    bool lowest = true;

    for (int i = 0; i < project->nparts; i++) {
        struct plan_band *band = &piece->bands[piece->nbands];

        builder->part_count[i] = builder->rest_count[i] = -1;
        if (!plan_part_counts_itself(builder, i))
            continue;
        if (project->parts[i].kind == PART_PLAIN)
            builder->part_count[i] = plain_count(builder, &project->parts[i], lowest);
        lowest = false;
        if (project->parts[i].kind == PART_PLAIN)
            continue;
        piece->nbands++;
        plan_band_from_chart(builder, i, band);
        plan_band_size(builder, &project->parts[i], band);
        if (!builder->failed && project->parts[i].remedy.word != REMEDY_NONE)
            plan_fit_set(builder, band);
        builder->part_count[i] = band->stitches + band->side_sts;
    }
}

/* What is kept beside a band: its own count, unless she shapes before and after it. */
static void keep_counts(struct builder *builder)
{
    const struct plan_piece *piece = builder->piece;

    for (int i = 0; i < piece->nbands; i++) {
        const struct plan_band *band = &piece->bands[i];
        int change = band->remedy && band->remedy->kind == FIT_SHAPE ? band->remedy->increase : 0;

        if (change > 0 && band->remedy->before_is_decrease)
            change = -change;
        builder->part_count[band->part] = band->stitches + band->side_sts;
        builder->rest_count[band->part] = builder->part_count[band->part] - change;
    }
}

/* In another size or at another gauge a part's stitches go with the measure, and a band's with its repeats:
 * a part that is on the band's stitches in her own piece stays on them, where they are near. */
static void stay_on_bands(struct builder *builder)
{
    const struct project *project = builder->project;
    double reach = builder_threshold(builder, "together_reach_ratio");

    for (int i = 0; i < project->nparts && builder->own_part_count; i++) {
        static const int above_first[] = {1, -1};

        if (project->parts[i].kind != PART_PLAIN || project->parts[i].on_needle.value == 0)
            continue;
        for (int k = 0; k < 2; k++) {
            int band = i + above_first[k];

            if (band < 0 || band >= project->nparts || project->parts[band].kind != PART_BAND ||
                builder->own_part_count[band] != builder->own_part_count[i] ||
                abs(builder->part_count[band] - builder->part_count[i]) > reach * builder->part_count[i])
                continue;
            builder->part_count[i] = builder->part_count[band];
            break;
        }
    }
}

/* Bands, and plain parts with a count of their own; then the rest. */
void plan_bands_size(struct builder *builder)
{
    builder->piece->bands = arena_alloc(builder->work->arena, (size_t)builder->project->nparts + 1,
                                        sizeof *builder->piece->bands);
    size_parts(builder);
    if (!builder->failed)
        plan_plain_settle(builder);
    if (!builder->failed)
        plan_together_set(builder);
    for (int i = 0; i < builder->piece->nbands && !builder->failed; i++)
        if (builder->project->parts[builder->piece->bands[i].part].remedy.word == REMEDY_NONE)
            plan_fit_set(builder, &builder->piece->bands[i]); /* by the count that is planned */
    if (builder->failed)
        return;
    keep_counts(builder);
    stay_on_bands(builder);
    plan_counts_spread(builder);
}
