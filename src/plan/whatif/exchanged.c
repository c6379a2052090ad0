/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Ground and pattern exchanged: the yarn of the same piece planned again, with the two yarns of
 * most stitches of each band in each other's place. Floats lie where they lay and are caught where they were,
 * in the other yarn; cast-on, rib, plain parts, bind-off and seam keep their yarn.
 */
#include "plan/builder.h"

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

/* Places in band->colours: of most stitches, and next to most. At least two colours. */
static void choose_two(const struct plan_band *band, int chosen[2])
{
    chosen[0] = chosen[1] = -1;
    for (int i = 0; i < band->ncolours; i++) {
        int64_t stitches = band->colours[i].piece_stitches;

        if (chosen[0] < 0 || stitches > band->colours[chosen[0]].piece_stitches) {
            chosen[1] = chosen[0];
            chosen[0] = i;
        } else if (chosen[1] < 0 || stitches > band->colours[chosen[1]].piece_stitches) {
            chosen[1] = i;
        }
    }
}

static void exchange_band(struct builder *builder, struct plan_band *band, const int chosen[2])
{
    struct plan_colour *colours =
        arena_alloc(builder->work->arena, (size_t)band->ncolours, sizeof *colours);
    uint8_t a = (uint8_t)band->colours[chosen[0]].yarn, b = (uint8_t)band->colours[chosen[1]].yarn;
    struct grid *grids[] = {&band->drawn,        &band->knitted, &band->left,
                            &band->left_knitted, &band->right,   &band->right_knitted};

    for (size_t i = 0; i < sizeof grids / sizeof grids[0]; i++)
        *grids[i] = exchange_grid(builder, grids[i], a, b);
    for (int i = 0; i < band->ncolours; i++)
        colours[i] = band->colours[i];
    colours[chosen[0]] = band->colours[chosen[1]];
    colours[chosen[0]].yarn = a;
    colours[chosen[1]] = band->colours[chosen[0]];
    colours[chosen[1]].yarn = b;
    band->colours = colours;
}

static void note_band(struct plan_exchanged *exchanged, const struct plan_band *own, int index,
                      const int chosen[2])
{
    struct plan_exchanged_band *band = &exchanged->bands[exchanged->nbands++];
    const struct plan_exchanged_band *first = exchanged->bands;

    band->band = index;
    band->ground = own->colours[chosen[0]].yarn;
    band->pattern = own->colours[chosen[1]].yarn;
    band->others = own->ncolours > 2;
    exchanged->any_others = exchanged->any_others || band->others;
    exchanged->one_pair =
        band == first ||
        (exchanged->one_pair &&
         ((band->ground == first->ground && band->pattern == first->pattern) ||
          (band->ground == first->pattern && band->pattern == first->ground)));
}

void plan_exchanged_set(struct builder *builder, struct plan *plan)
{
    const struct plan_piece *own = builder->piece;
    struct plan_exchanged *exchanged = &plan->exchanged;
    struct plan_piece other;
    struct variant changed = {.parts = PIECE_YARNS | PIECE_RANGE};

    exchanged->bands =
        arena_alloc(builder->work->arena, (size_t)own->nbands, sizeof *exchanged->bands);
    changed.bands = arena_alloc(builder->work->arena, (size_t)own->nbands, sizeof *changed.bands);
    for (int i = 0; i < own->nbands; i++) {
        int chosen[2];

        changed.bands[i] = own->bands[i];
        if (own->bands[i].ncolours < 2)
            continue;
        choose_two(&own->bands[i], chosen);
        exchange_band(builder, &changed.bands[i], chosen);
        note_band(exchanged, &own->bands[i], i, chosen);
    }
    if (exchanged->nbands == 0)
        return;
    plan_variant(builder, &changed, &other, NULL);
    exchanged->yarns = other.yarns;
    exchanged->same_balls = true;
    for (int i = 0; i < own->nyarns; i++)
        exchanged->same_balls =
            exchanged->same_balls && own->yarns[i].buy.balls == other.yarns[i].buy.balls;
}
