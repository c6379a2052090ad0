/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Bands on one count: which share it, and the counts near a measure that suit them all.
 */
#include <math.h>

#include "base/arena.h"
#include "together_parts.h"
#include "words/say.h"

struct count_rule joint_rib_rule(const struct builder *builder)
{
    const struct cast_on *cast_on = &builder->project->cast_on;

    return sizing_rib(cast_on->rib_knit, cast_on->rib_purl, builder->project->worked.value == WORKED_FLAT);
}

struct count_rule joint_band_rule(const struct plan_band *band)
{
    return (struct count_rule){band->repeat_sts, band->side_sts, -1};
}

const struct part *joint_part(const struct joint *joint, int part)
{
    return &joint->builder->project->parts[part];
}

struct plan_band *joint_band(const struct builder *builder, int part)
{
    struct plan_band *band = builder->piece->bands;

    while (band->part != part)
        band++;
    return band;
}

/* --- counts near a measure ------------------------------------------------------------------------ */

bool joint_is_stopped(const struct joint_stage *stage, double reach)
{
    struct count_set counts = sizing_counts(stage->model.rules, stage->model.nrules);
    double low = 0.0, high = 0.0;
    int64_t below;

    for (int i = 0; i < stage->model.ntargets; i++) {
        double target = rational_double(stage->model.targets[i]);

        low = fmax(low, target * (1.0 - reach));
        high = i == 0 ? target * (1.0 + reach) : fmin(high, target * (1.0 + reach));
    }
    if (stage->model.pass == 0 || high < 1.0 || high >= INT32_MAX)
        return false;
    below = sizing_below(&counts, (int64_t)floor(high));
    return below > 0 && (double)below >= low;
}

/* --- one count ------------------------------------------------------------------------------------ */

static bool is_as_below(const struct part *part)
{
    return part->kind == PART_BAND && part->count.value == COUNT_AS_BELOW;
}

/* The next part down with a count of its own; -1: none. */
static int counted_below(const struct builder *builder, int part)
{
    do
        part--;
    while (part >= 0 && !plan_part_counts_itself(builder, part));
    return part;
}

int plan_next_taker(const struct builder *builder, int from)
{
    const struct project *project = builder->project;

    while (from < project->nparts && !plan_part_counts_itself(builder, from))
        from++;
    return from < project->nparts && is_as_below(&project->parts[from]) ? from : project->nparts;
}

int64_t plan_together_taken(const struct builder *builder, int part, struct rational target,
                            struct rational reach)
{
    const struct project *project = builder->project;
    struct count_rule *rules = arena_alloc(builder->work->arena, (size_t)project->nparts, sizeof *rules);
    struct count_set counts;
    int64_t nearest;
    int n = 0;

    for (int i = plan_next_taker(builder, part + 1); i < project->nparts; i = plan_next_taker(builder, i + 1))
        rules[n++] = joint_band_rule(joint_band(builder, i));
    counts = sizing_counts(rules, n);
    nearest = sizing_nearest(&counts, target);
    return nearest > 0 && rational_compare(rational_distance(rational_whole(nearest), target), reach) <= 0 ? nearest
                                                                                                           : 0;
}

/* The lowest of those on the count of this part. */
static int lowest_of(const struct builder *builder, int part)
{
    int below = counted_below(builder, part);

    while (below >= 0 && is_as_below(&builder->project->parts[part])) {
        part = below;
        below = counted_below(builder, part);
    }
    return part;
}

int64_t plan_together_nearest(const struct builder *builder, const struct plan_band *band,
                              struct rational target, const char **sharers)
{
    const struct project *project = builder->project;
    const struct cast_on *cast_on = &project->cast_on;
    struct arena *arena = builder->work->arena;
    struct count_rule *rules = arena_alloc(arena, (size_t)project->nparts + 1, sizeof *rules);
    const char **names = arena_alloc(arena, (size_t)project->nparts + 1, sizeof *names);
    int lowest = lowest_of(builder, band->part), n = 0, nnames = 0;
    struct count_set counts;

    if (counted_below(builder, lowest) < 0 && cast_on->rib_rounds > 0 &&
        cast_on->stitches_kind == RIB_SAME) {
        rules[n++] = joint_rib_rule(builder);
        names[nnames++] = "rib";
    }
    for (int i = lowest; i < project->nparts; i++) {
        const struct plan_band *one;

        if (!plan_part_counts_itself(builder, i))
            continue;
        if (i > lowest && !is_as_below(&project->parts[i]))
            break;
        if (project->parts[i].kind != PART_BAND)
            continue;
        one = joint_band(builder, i);
        rules[n++] = joint_band_rule(one);
        if (one != band)
            names[nnames++] = one->name;
    }
    *sharers = nnames > 0 ? say_list(arena, names, nnames) : NULL;
    counts = sizing_counts(rules, n);
    return sizing_nearest(&counts, target);
}
