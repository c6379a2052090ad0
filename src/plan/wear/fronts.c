/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The two edges at a steek: do they mirror each other, and what would make them.
 */
#include "plan/builder.h"

#include <stdlib.h>

#include "base/arena.h"
#include "model/motif/symmetry.h"

/* As for the start of a round: beyond this it is no motif that anybody centres. */
static const int64_t LOOKS_MAX = 50000000;

/* Given: axis, of the chart as a ring: column c and column axis - c alike. Whole repeats begun with
 * column s mirror where the axis is 2 s - 1, and with m columns more at their end where it is 2 s - 1 + m. */
static void take_axis(struct plan_fronts *fronts, int axis, int ncols)
{
    int more = (axis + 1) % ncols, twice = more;

    if (2 * more > ncols)
        more -= ncols;
    if (!fronts->known || abs(more) < abs(fronts->more_sts))
        fronts->more_sts = more;
    fronts->known = true;
    if (twice % 2 != 0)
        twice += ncols;
    if (twice % 2 == 0 && (fronts->start < 0 || twice / 2 % ncols < fronts->start))
        fronts->start = twice / 2 % ncols;
}

static bool has_gaps(const struct grid *grid)
{
    for (int64_t i = 0; i < (int64_t)grid->nrows * grid->ncols; i++)
        if (grid->cell[i] == GRID_NO_STITCH)
            return true;
    return false;
}

static const struct plan_fronts *fronts_of(struct builder *builder, const struct plan_band *band)
{
    int ncols = band->knitted.ncols;
    struct plan_fronts *fronts = arena_alloc(builder->work->arena, 1, sizeof *fronts);

    fronts->start = -1;
    for (int axis = symmetry_next_mirror(builder->work, &band->knitted, 0); axis >= 0 && axis < ncols;
         axis = symmetry_next_mirror(builder->work, &band->knitted, axis + 1))
        take_axis(fronts, axis, ncols);
    return fronts;
}

void plan_fronts_set(struct builder *builder)
{
    for (int i = 0; i < builder->piece->nbands && !builder->try_at && builder_steek_sts(builder) > 0;
         i++) {
        struct plan_band *band = &builder->piece->bands[i];
        int64_t cells = (int64_t)band->knitted.nrows * band->knitted.ncols;

        if (cells > 0 && cells * band->knitted.ncols <= LOOKS_MAX && !has_gaps(&band->knitted))
            band->fronts = fronts_of(builder, band);
    }
}
