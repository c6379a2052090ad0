/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Stitches that break a symmetry, each with what it would agree with, and which of the two is
 * likely the slip.
 */
#include "base/arena.h"
#include "base/work.h"
#include "proofread.h"

/* The commonest yarn of the stitches that a symmetry brings to this one, of equals the first of the
 * project, and where it is. Returned: is it the commonest alone? */
static bool majority(const struct proof_chart *chart, const struct symmetry *symmetry, int row,
                     int column, uint8_t *yarn, int *r, int *c)
{
    int count[256] = {0}, equals = 0, at_row = row, at_column = column;

    for (int i = 0; i < symmetry->times; i++) {
        count[grid_at(chart->field.grid, at_row, at_column)]++;
        symmetry_partner(&chart->field, symmetry, at_row, at_column, &at_row, &at_column);
    }
    *yarn = 0;
    for (int other = 1; other < 256; other++)
        if (count[other] > count[*yarn])
            *yarn = (uint8_t)other;
    for (int other = 0; other < 256; other++)
        equals += count[other] == count[*yarn];
    for (*r = row, *c = column; grid_at(chart->field.grid, *r, *c) != *yarn;)
        symmetry_partner(&chart->field, symmetry, *r, *c, r, c);
    return equals == 1;
}

/* The yarn that a symmetry would have there, and the stitch that says so, -1: outside. likely: it
 * is three and more to whom the same was meant, and most of them agree. */
static uint8_t wanted_at(const struct proof_chart *chart, const struct symmetry *symmetry, int row,
                         int column, int *r, int *c, bool *likely)
{
    uint8_t wanted;

    *likely = false;
    if (symmetry->times > 2) {
        *likely = majority(chart, symmetry, row, column, &wanted, r, c);
        return wanted;
    }
    if (symmetry_partner(&chart->field, symmetry, row, column, r, c))
        return grid_at(chart->field.grid, *r, *c);
    *r = *c = -1;
    return chart->field.ground;
}

/* Near symmetries that miss this stitch. */
static int times_missed(const struct proof_chart *chart, int row, int column)
{
    int missed = 0;

    for (int kind = 0; kind < SYMMETRY_KINDS; kind++) {
        int r, c;
        bool likely;

        if (chart->symmetries.nearly[kind])
            missed += grid_at(chart->field.grid, row, column) !=
                      wanted_at(chart, &chart->symmetries.of[kind], row, column, &r, &c, &likely);
    }
    return missed;
}

/* One of few single stitches of its yarn, where the other lies in a plain field: a speck. */
static bool is_speck(const struct proof_chart *chart, int row, int column, int r, int c)
{
    if (!proof_is_alone(&chart->field, row, column) || !proof_is_plain(&chart->field, r, c))
        return false;
    for (int i = 0; i < chart->nspecks; i++)
        if (chart->specks[i].row == row && chart->specks[i].column == column)
            return true;
    return false;
}

static struct proof_fault fault_of_pair(const struct proof_chart *chart, int row, int column, int r,
                                        int c, bool inside)
{
    const struct grid *grid = chart->field.grid;
    struct proof_fault fault = {
        row, column, -1, -1, grid_at(grid, row, column), chart->field.ground, !inside};
    int own, other;

    if (!inside)
        return fault;
    own = times_missed(chart, row, column);
    other = times_missed(chart, r, c);
    if (other == own) {
        own += is_speck(chart, row, column, r, c);
        other += is_speck(chart, r, c, row, column);
    }
    if (other > own)
        return (struct proof_fault){r, c, row, column, grid_at(grid, r, c), fault.yarn, true};
    return (struct proof_fault){row, column, r, c, fault.yarn, grid_at(grid, r, c), own > other};
}

int proofread_faults(struct work *work, const struct proof_chart *chart,
                     const struct symmetry *broken, const struct proof_fault **listed)
{
    const struct grid *grid = chart->field.grid;
    struct proof_fault *faults =
        arena_alloc(work->arena, (size_t)broken->breaks * (size_t)broken->times, sizeof *faults);
    int count = 0;

    for (int row = 0; row < grid->nrows; row++)
        for (int column = 0; column < grid->ncols && count < broken->breaks; column++) {
            uint8_t yarn = grid_at(grid, row, column);
            int r, c;
            bool likely;
            uint8_t wanted = wanted_at(chart, broken, row, column, &r, &c, &likely);

            if (wanted == yarn)
                continue;
            if (broken->times > 2)
                faults[count++] = (struct proof_fault){row, column, r, c, yarn, wanted, likely};
            else if (r < 0 || r * grid->ncols + c > row * grid->ncols + column)
                faults[count++] = fault_of_pair(chart, row, column, r, c, r >= 0);
        }
    *listed = faults;
    return count;
}
