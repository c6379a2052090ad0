/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Ground and pattern exchanged: the yarn of the same piece planned again, with the two yarns of
 * each band of two in each other's place. Floats lie where they lay and are caught where they were,
 * in the other yarn; cast-on, rib, plain parts, bind-off and seam keep their yarn.
 */
#include "builder.h"

#include "base/arena.h"

static struct grid exchange_grid(struct builder *builder, const struct grid *grid, uint8_t a,
                                 uint8_t b)
{
    size_t n = (size_t)grid->nrows * (size_t)grid->ncols;
    uint8_t *cell = arena_alloc(builder->work->arena, n, 1);

    for (size_t i = 0; i < n; i++)
        cell[i] = grid->cell[i] == a ? b : grid->cell[i] == b ? a : grid->cell[i];
    return (struct grid){grid->nrows, grid->ncols, cell};
}

static void exchange_band(struct builder *builder, struct plan_band *band)
{
    struct plan_colour *colours = arena_alloc(builder->work->arena, 2, sizeof *colours);
    uint8_t a = (uint8_t)band->colours[0].yarn, b = (uint8_t)band->colours[1].yarn;
    struct grid *grids[] = {&band->drawn,        &band->knitted, &band->left,
                            &band->left_knitted, &band->right,   &band->right_knitted};

    for (size_t i = 0; i < sizeof grids / sizeof grids[0]; i++)
        *grids[i] = exchange_grid(builder, grids[i], a, b);
    colours[0] = band->colours[1];
    colours[0].yarn = a;
    colours[1] = band->colours[0];
    colours[1].yarn = b;
    band->colours = colours;
}

void plan_exchanged_set(struct builder *builder, struct plan *plan)
{
    struct plan_piece *own = builder->piece;
    struct plan_piece other = *own;
    struct plan_exchanged *exchanged = &plan->exchanged;
    struct builder again = *builder;

    exchanged->bands =
        arena_alloc(builder->work->arena, (size_t)own->nbands, sizeof *exchanged->bands);
    other.bands = arena_alloc(builder->work->arena, (size_t)own->nbands, sizeof *other.bands);
    for (int i = 0; i < own->nbands; i++) {
        other.bands[i] = own->bands[i];
        if (own->bands[i].ncolours != 2)
            continue;
        exchange_band(builder, &other.bands[i]);
        exchanged->bands[exchanged->nbands++] = i;
    }
    if (exchanged->nbands == 0)
        return;
    again.piece = &other;
    plan_yarns_set(&again);
    plan_range_yarns(&again);
    exchanged->yarns = other.yarns;
}
