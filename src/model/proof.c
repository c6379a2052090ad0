/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "proof.h"

#include <stddef.h>


int proof_row_period(const uint8_t *yarn_of, int count, int whole)
{
    for (int period = 1; period * whole <= count; period++) {
        int i = 0;

        while (i < count - period && yarn_of[i] == yarn_of[i + period])
            i++;
        if (i == count - period)
            return count % period == 0 ? 0 : period;
    }
    return 0;
}

/* The yarn there; outside the ground, or round the join. */
static uint8_t yarn_at(const struct symmetry_field *field, int row, int column)
{
    const struct grid *grid = field->grid;
    bool row_in = row >= 0 && row < grid->nrows, column_in = column >= 0 && column < grid->ncols;

    if ((!row_in && !field->ring_rows) || (!column_in && !field->ring))
        return field->ground;
    row = (row + grid->nrows) % grid->nrows;
    column = (column + grid->ncols) % grid->ncols;
    return grid->cell[(size_t)row * (size_t)grid->ncols + (size_t)column];
}

/* One of the three stitches of that column next to row. */
static bool one_of_three(const struct symmetry_field *field, int row, int column, uint8_t yarn)
{
    return yarn_at(field, row - 1, column) == yarn || yarn_at(field, row, column) == yarn ||
           yarn_at(field, row + 1, column) == yarn;
}

/* Does a line of single stitches end there, going the way of step (1: leftwards)? */
static bool line_ends(const struct symmetry_field *field, int row, int column, int step)
{
    uint8_t yarn = yarn_at(field, row, column);

    return yarn != field->ground && yarn != GRID_NO_STITCH &&
           yarn_at(field, row - 1, column) != yarn && yarn_at(field, row + 1, column) != yarn &&
           one_of_three(field, row, column - step, yarn) &&
           !one_of_three(field, row, column + step, yarn);
}

/* Over the boundary between column and the one at its left. */
static int gaps_at(const struct symmetry_field *field, int column, struct proof_gap *gaps, int most)
{
    static const int apart[] = {2, -2, 3, -3};
    int count = 0;

    for (int row = 0; row < field->grid->nrows && count < most; row++) {
        uint8_t yarn = yarn_at(field, row, column);
        int i = 0;

        if (!line_ends(field, row, column, 1))
            continue;
        while (i < 4 && !(yarn_at(field, row + apart[i], column + 1) == yarn &&
                          line_ends(field, row + apart[i], column + 1, -1)))
            i++;
        if (i < 4) {
            int nrows = field->grid->nrows;

            gaps[count++] = (struct proof_gap){row, (row + apart[i] + nrows) % nrows, yarn};
        }
    }
    return count;
}

int proof_gaps(const struct symmetry_field *field, struct proof_gap *gaps, int most)
{
    int ncols = field->grid->ncols, count;
    struct proof_gap elsewhere;

    if (!field->ring || ncols < 4 || field->grid->nrows < 4)
        return 0;
    count = gaps_at(field, ncols - 1, gaps, most);
    for (int column = 0; count > 0 && column < ncols - 1; column++)
        if (gaps_at(field, column, &elsewhere, 1) > 0)
            return 0;
    return count;
}

bool proof_has_neighbour(const struct symmetry_field *field, int row, int column)
{
    const struct grid *grid = field->grid;
    uint8_t yarn = yarn_at(field, row, column);

    if ((!field->ring && (column == 0 || column == grid->ncols - 1)) ||
        (!field->ring_rows && (row == 0 || row == grid->nrows - 1)))
        return true;
    return one_of_three(field, row, column - 1, yarn) || one_of_three(field, row, column + 1, yarn) ||
           yarn_at(field, row - 1, column) == yarn || yarn_at(field, row + 1, column) == yarn;
}

static int alike_round(const struct symmetry_field *field, int row, int column)
{
    uint8_t yarn = yarn_at(field, row, column);
    int alike = -1; /* itself */

    for (int r = row - 1; r <= row + 1; r++)
        for (int c = column - 1; c <= column + 1; c++)
            alike += yarn_at(field, r, c) == yarn;
    return alike;
}

bool proof_is_alone(const struct symmetry_field *field, int row, int column)
{
    return alike_round(field, row, column) == 0;
}

bool proof_is_plain(const struct symmetry_field *field, int row, int column)
{
    return alike_round(field, row, column) == 8;
}

int proof_strays(const struct symmetry_field *field, uint8_t yarn, int most, double part,
                 struct proof_stray *strays)
{
    const struct grid *grid = field->grid;
    int64_t stitches = 0, alone = 0;

    for (int row = 0; row < grid->nrows; row++)
        for (int column = 0; column < grid->ncols; column++) {
            if (yarn_at(field, row, column) != yarn)
                continue;
            stitches++;
            if (proof_has_neighbour(field, row, column))
                continue;
            if (alone < most)
                strays[alone] = (struct proof_stray){row, column};
            alone++;
        }
    return alone > most || (double)alone > part * (double)stitches ? 0 : (int)alone;
}
