/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The fewest stitches to change to lose catches: each band searched, and what a change saves.
 */
#include "plan/builder.h"

#include <string.h>

#include "base/arena.h"
#include "model/motif/recolour.h"
#include "proofread.h"

enum { SYMMETRIES_MOST = (int)SYMMETRY_GENERATORS_MAX + (int)SYMMETRY_KINDS };

/* Those that the proof-reading takes for meant, of a chart that meets itself, sought once a band. Where
 * it goes on upwards, all that it has follow from a few. */
static int find_symmetries(struct builder *builder, const struct symmetry_field *field,
                           struct symmetry symmetries[SYMMETRIES_MOST])
{
    struct proof_symmetries found = {0};
    bool by_moves =
        field->ring_rows && (int64_t)field->grid->nrows * field->grid->ncols <= SYMMETRY_CELLS_MAX;
    int n = 0;

    if (by_moves)
        n = symmetry_generators(field->grid, true, symmetries);
    proof_find_symmetries(builder->work, field, &found);
    for (int kind = 0; kind < SYMMETRY_KINDS; kind++)
        if (found.nearly[kind] || (found.holds[kind] && !by_moves))
            symmetries[n++] = found.of[kind];
    return n;
}

static struct plan_recolour reckon(struct builder *builder, const struct plan *plan,
                                   const struct plan_band *band, const struct recolour_band *ring,
                                   const struct recolour *change)
{
    struct plan_recolour out = {.ncells = change->ncells, .behind_sts = change->behind_sts};
    struct recolour_cell *cells = arena_alloc(builder->work->arena, (size_t)change->ncells, sizeof *cells);
    bool open = builder_is_open(builder);

    memcpy(cells, change->cell, (size_t)change->ncells * sizeof *cells);
    out.cells = cells;
    out.saved_repeat = recolour_saves(builder->work, ring, change);
    out.saved_piece = change->saved * (open ? 1 : band->repeats) * band->upwards;
    out.saved_all = out.saved_piece * plan->make;
    out.sts_piece = (int64_t)change->ncells * band->repeats * band->upwards;
    return out;
}

static void search_band(struct builder *builder, const struct plan *plan, struct plan_band *band)
{
    struct symmetry symmetries[SYMMETRIES_MOST];
    struct recolour_found *found = arena_alloc(builder->work->arena, 1, sizeof *found);
    bool open = builder_is_open(builder);
    struct recolour_band ring = {
        .drawn = &band->drawn,
        .knitted = &band->knitted,
        .repeats = 1,
        .ends = FLOATS_RING,
        .leave_sts = band->leave_sts,
        .symmetries = symmetries,
        .field = {&band->drawn, true, band->upwards > 1, symmetry_ground(&band->drawn)},
    };
    struct recolour_band worked = ring;

    ring.nsymmetries = worked.nsymmetries = find_symmetries(builder, &ring.field, symmetries);
    if (open) {
        worked.left = &band->left_knitted;
        worked.right = &band->right_knitted;
        worked.repeats = band->repeats;
        worked.ends = plan_open_piece(builder, band).ends;
    }
    recolour_search(builder->work, &worked, found);
    band->recolours.too_large = !found->searched;
    band->recolours.pair_certain = found->pair_certain;
    for (int i = 0; i < found->nones; i++)
        band->recolours.one[i] = reckon(builder, plan, band, &ring, &found->one[i]);
    band->recolours.nones = found->nones;
    band->recolours.has_pair = found->has_pair;
    if (!found->has_pair)
        return;
    band->recolours.pair = reckon(builder, plan, band, &ring, &found->pair);
    band->recolours.pair_of[0] = found->pair_of[0];
    band->recolours.pair_of[1] = found->pair_of[1];
}

void plan_recolours_set(struct builder *builder, struct plan *plan)
{
    for (int i = 0; i < plan->piece.nbands; i++) {
        plan->piece.bands[i].recolours.pair_certain = true; /* where no catch is needed */
        if (plan->piece.bands[i].worked_fewest > 0)
            search_band(builder, plan, &plan->piece.bands[i]);
    }
}
