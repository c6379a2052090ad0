/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What if: her piece planned again with something changed, the one way to every answer of that kind; and
 * the gauges she tries.
 */
#include "plan/builder.h"

#include "base/arena.h"

/* Her bands, worked otherwise: the counts stay, and with them all that yarn is reckoned from. */
static bool build_on_bands(struct builder *again, const struct variant *changed)
{
    *again->piece = *again->own;
    again->piece->bands = changed->bands;
    return builder_build_piece(again, changed->parts);
}

bool plan_variant(const struct builder *own, const struct variant *changed, struct plan_piece *piece,
                  const char **why)
{
    struct work work = *own->work;
    struct builder again = {.work = &work,
                            .project = changed->project ? changed->project : own->project,
                            .charts = changed->charts ? changed->charts : own->charts,
                            .try_at = changed->at,
                            .own = own->piece,
                            .own_project = own->project,
                            .own_part_count = changed->at ? own->part_count : NULL,
                            .own_gauge = changed->own_gauge,
                            .piece = piece,
                            .used = changed->at ? own->used : NULL};
    bool fits;

    if (!changed->at) /* the numbers of a try stand in the plan; of others only what they come to */
        work.diagnostics = diagnostics_create(work.arena);
    if (!again.used)
        again.used = arena_alloc(work.arena, (size_t)tables_allowance_count(work.tables), sizeof *again.used);
    fits = changed->bands ? build_on_bands(&again, changed)
                          : builder_build_piece(&again, changed->parts ? changed->parts : PIECE_ALL);
    if (why)
        *why = again.why;
    return fits;
}

static enum float_verdict verdict_of(const struct plan_piece *own, const struct plan_piece *there)
{
    if (!there->too_long)
        return VERDICT_NONE_LONG;
    if (!own->too_long)
        return VERDICT_TOO_LONG;
    return there->longest_in > own->longest_in ? VERDICT_LONGER : VERDICT_NOT_LONGER;
}

void plan_variant_try(const struct builder *own, const struct variant *changed, const char *name,
                      struct plan_try *out)
{
    out->name = name;
    out->fits = plan_variant(own, changed, &out->piece, &out->why);
    if (out->fits)
        out->verdict = verdict_of(own->piece, &out->piece);
}

const struct try_gauge *plan_variant_gauge(struct work *work, const char *name, struct rational per_in,
                                           struct rational rows_per_in)
{
    struct try_gauge *at = arena_alloc(work->arena, 1, sizeof *at);

    at->name = name;
    at->over = (struct given_length){.in = rational_whole(1)};
    at->stitches.count = at->rows.count = 1;
    at->stitches.value[0] = per_in;
    at->rows.value[0] = rows_per_in;
    return at;
}

void plan_tries_set(struct builder *builder, struct plan *plan)
{
    const struct project *project = builder->project;

    plan->ntries = project->ntries;
    plan->tries = arena_alloc(builder->work->arena, (size_t)project->ntries, sizeof *plan->tries);
    for (int i = 0; i < project->ntries; i++)
        plan_variant_try(builder, &(struct variant){.at = &project->tries[i]}, project->tries[i].name,
                         &plan->tries[i]);
}
