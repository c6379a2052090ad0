/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Bands on one count: which share it, and the counts near a measure that suit them all.
 */
#include "builder.h"

#include "base/arena.h"
#include "model/together.h"

bool plan_together_around(const struct together_rule *rules, int nrules, struct rational target,
                          int64_t *below, int64_t *above)
{
    int64_t residue[TOGETHER_RESIDUES], floor = rational_floor(target);
    int nresidues = 0;
    int64_t multiple = together_agree(rules, nrules, residue, &nresidues);

    *below = *above = 0;
    if (multiple <= 0 || nresidues == 0 || floor < 0)
        return false;
    for (int i = 0; i < nresidues; i++) {
        int64_t under = residue[i] > floor ? 0 : floor - (floor - residue[i]) % multiple;
        int64_t over = residue[i] > floor ? residue[i] : under + multiple;

        if (under > *below)
            *below = under;
        if (*above == 0 || over < *above)
            *above = over;
    }
    return true;
}

static bool is_as_below(const struct part *part)
{
    return part->kind == PART_BAND && part->count.given && part->count.value == COUNT_AS_BELOW;
}

/* The next part down with a count of its own; -1: none. */
static int counted_below(const struct builder *builder, int part)
{
    do
        part--;
    while (part >= 0 && !plan_part_counts_itself(builder, part));
    return part;
}

static const struct plan_band *band_of(const struct builder *builder, int part)
{
    const struct plan_band *band = builder->piece->bands;

    while (band->part != part)
        band++;
    return band;
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

/* "rib", "rib and waves", "rib, waves and buds" */
static const char *join(struct arena *arena, const char *before, const char *last)
{
    return !before ? last : arena_printf(arena, "%s and %s", before, last);
}

static void keep_name(struct arena *arena, const char **before, const char **last, const char *name)
{
    if (*last)
        *before = *before ? arena_printf(arena, "%s, %s", *before, *last) : *last;
    *last = name;
}

static int64_t multiple_of(const struct together_rule *rules, int nrules)
{
    int64_t residue[TOGETHER_RESIDUES];
    int nresidues;

    return together_agree(rules, nrules, residue, &nresidues);
}

int64_t plan_together_nearest(const struct builder *builder, const struct plan_band *band,
                              struct rational target, const char **sharers)
{
    const struct project *project = builder->project;
    const struct cast_on *cast_on = &project->cast_on;
    struct arena *arena = builder->work->arena;
    struct together_rule *rules = arena_alloc(arena, (size_t)project->nparts + 1, sizeof *rules);
    const char *before = NULL, *last = NULL;
    int lowest = lowest_of(builder, band->part), n = 0;
    int64_t below, above;

    if (counted_below(builder, lowest) < 0 && cast_on->rib.given &&
        cast_on->stitches_kind == RIB_SAME) {
        rules[n++] = (struct together_rule){
            cast_on->rib_knit + cast_on->rib_purl, 0,
            project->worked.value == WORKED_FLAT ? cast_on->rib_knit : -1};
        keep_name(arena, &before, &last, "rib");
    }
    for (int i = lowest; i < project->nparts; i++) {
        const struct plan_band *one;

        if (!plan_part_counts_itself(builder, i))
            continue;
        if (i > lowest && !is_as_below(&project->parts[i]))
            break;
        if (project->parts[i].kind != PART_BAND)
            continue;
        one = band_of(builder, i);
        rules[n++] = (struct together_rule){one->repeat_sts, one->side_sts, -1};
        if (one != band)
            keep_name(arena, &before, &last, one->name);
    }
    *sharers = last ? join(arena, before, last) : NULL;
    if (!plan_together_around(rules, n, target, &below, &above))
        return 0;
    while (above < band->repeat_sts + band->side_sts)
        above += multiple_of(rules, n);
    if (below < band->repeat_sts + band->side_sts)
        return above;
    return rational_compare(rational_sub(target, rational_whole(below)),
                            rational_sub(rational_whole(above), target)) < 0
               ? below
               : above;
}
