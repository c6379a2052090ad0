/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * One project in several sizes: the same plan at each finished measure in the list.
 *
 * Each is a try at her own gauge. What lies across grows with the measure; lengths stay.
 */
#include "plan/builder.h"

#include <math.h>

#include "base/arena.h"

static const struct given_length *measure_of(const struct project *project)
{
    return project->worked.value == WORKED_FLAT ? &project->width : &project->around;
}

static void grow_length(struct given_length *length, struct rational times)
{
    if (rational_is_value(length->in))
        length->in = rational_mul(length->in, times);
}

/* At least one stitch; `fixed` of them stay. */
static void grow_count(struct given_whole *count, int fixed, struct rational times)
{
    struct rational grown = rational_mul(rational_whole(count->value - fixed), times);
    int64_t nearest = rational_is_value(grown) ? rational_nearest(grown) : 0;

    if (count->value > 0)
        count->value = fixed + (nearest < 1 ? 1 : nearest > 100000000 ? 100000000 : (int)nearest);
}

/* fixed: stitches on the needle that no measure counts. */
static void grow_part(struct part *part, int fixed, struct rational times)
{
    grow_length(&part->around, times);
    grow_length(&part->width, times);
    grow_length(&part->must_pass, times);
    grow_count(&part->on_needle, fixed, times);
    grow_count(&part->stitches, 0, times);
    part->repeats.value = 0; /* it has a measure */
}

static const struct project *project_in(struct builder *own, struct rational measure_in)
{
    struct arena *arena = own->work->arena;
    const struct project *project = own->project;
    struct rational times = rational_div(measure_in, measure_of(project)->in);
    int fixed = builder_needle_edges(own) - builder_edges_in_measure(own);
    struct project *copy = arena_alloc(arena, 1, sizeof *copy);
    struct part *parts = arena_alloc(arena, (size_t)project->nparts, sizeof *parts);

    *copy = *project;
    for (int i = 0; i < project->nparts; i++) {
        parts[i] = project->parts[i];
        grow_part(&parts[i], fixed, times);
    }
    copy->parts = parts;
    grow_length(&copy->around, times);
    grow_length(&copy->width, times);
    grow_length(&copy->must_pass, times);
    grow_count(&copy->cast_on.stitches, 0, times);
    return copy;
}

/* A heel or a crown of so many stitches grows with the measure all the same. */
static bool same_counts(const struct plan_piece *a, const struct plan_piece *b)
{
    if (a->nsteps != b->nsteps)
        return false;
    for (int i = 0; i < a->nsteps; i++)
        if (a->steps[i].kind != b->steps[i].kind || a->steps[i].on_needle != b->steps[i].on_needle ||
            a->steps[i].rows != b->steps[i].rows)
            return false;
    return true;
}

static int find_same(const struct plan_size *sizes, int index)
{
    for (int i = 0; i < index; i++)
        if (sizes[i].at.fits && sizes[index].at.fits &&
            same_counts(&sizes[i].at.piece, &sizes[index].at.piece))
            return i;
    return -1;
}

/* Against what is wanted at its own measure. */
static int find_furthest(const struct plan_try *at)
{
    int furthest = 0;

    for (int i = 1; at->fits && i < at->piece.nbands; i++)
        if (fabs(at->piece.bands[i].off_part) > fabs(at->piece.bands[furthest].off_part))
            furthest = i;
    return furthest;
}

void plan_sizes_set(struct builder *builder, struct plan *plan)
{
    const struct given_sizes *asked = &builder->project->sizes;
    struct variant changed = {.own_gauge = true};
    struct plan_size *sizes;

    if (asked->count == 0)
        return;
    changed.at = plan_variant_gauge(builder->work, "", builder->per_in, builder->rows_per_in);
    sizes = arena_alloc(builder->work->arena, (size_t)asked->count, sizeof *sizes);
    for (int i = 0; i < asked->count; i++) {
        struct plan_size *size = &sizes[i];

        size->measure_in = rational_double(asked->in[i]);
        size->own = rational_compare(asked->in[i], measure_of(builder->project)->in) == 0;
        changed.project = project_in(builder, asked->in[i]);
        plan_variant_try(builder, &changed, asked->name[i], &size->at);
        size->furthest = find_furthest(&size->at);
        size->same_as = find_same(sizes, i);
    }
    plan->sizes = sizes;
    plan->nsizes = asked->count;
}
