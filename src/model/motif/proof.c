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
    row = row_in ? row : (row % grid->nrows + grid->nrows) % grid->nrows;
    column = column_in ? column : (column % grid->ncols + grid->ncols) % grid->ncols;
    return grid_at(grid, row, column);
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

static int alike_round(const struct symmetry_field *field, int row, int column)
{
    uint8_t yarn = yarn_at(field, row, column);
    int alike = -1; /* itself */

    for (int r = row - 1; r <= row + 1; r++)
        for (int c = column - 1; c <= column + 1; c++)
            alike += yarn_at(field, r, c) == yarn;
    return alike;
}

bool proof_has_neighbour(const struct symmetry_field *field, int row, int column)
{
    const struct grid *grid = field->grid;

    if ((!field->ring && (column == 0 || column == grid->ncols - 1)) ||
        (!field->ring_rows && (row == 0 || row == grid->nrows - 1)))
        return true;
    return alike_round(field, row, column) > 0;
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

/* --- seedings --------------------------------------------------------------------------------- */

enum { STEP = PROOF_STEP_MAX, SAMPLED_MAX = 400, NEXT = 8, ROOM = 4 };

struct seeding {
    const struct symmetry_field *field;
    uint8_t yarn;
    int next[NEXT][2]; /* the eight next places: rows, columns */
};

/* By itself, or with the one beside it: a neighbour that was moved there. */
static bool is_seed(const struct symmetry_field *field, uint8_t yarn, int row, int column)
{
    return yarn_at(field, row, column) == yarn && alike_round(field, row, column) <= 1;
}

static int64_t count_seeds(const struct symmetry_field *field, uint8_t yarn)
{
    int64_t count = 0;

    for (int row = 0; row < field->grid->nrows; row++)
        for (int column = 0; column < field->grid->ncols; column++)
            count += is_seed(field, yarn, row, column);
    return count;
}

/* [rows][STEP + columns]: how many of those asked have another seed that way off. */
static int count_steps(const struct symmetry_field *field, uint8_t yarn, int64_t nseeds,
                       int votes[STEP + 1][2 * STEP + 1])
{
    int64_t every = nseeds / SAMPLED_MAX + 1, number = 0;
    int high = field->grid->nrows - 1 < STEP ? field->grid->nrows - 1 : STEP;
    int wide = field->grid->ncols - 1 < STEP ? field->grid->ncols - 1 : STEP, asked = 0;

    for (int row = 0; row < field->grid->nrows; row++)
        for (int column = 0; column < field->grid->ncols; column++) {
            if (!is_seed(field, yarn, row, column) || number++ % every != 0)
                continue;
            asked++;
            for (int up = 0; up <= high; up++)
                for (int along = up > 0 ? -wide : 1; along <= wide; along++)
                    votes[up][STEP + along] += is_seed(field, yarn, row + up, column + along);
        }
    return asked;
}

/* The shortest step that half of them have and more, not on the line of another. */
static bool shortest_step(int votes[STEP + 1][2 * STEP + 1], int asked, const int *other, int *step)
{
    int least = 2 * STEP * STEP + 1;

    for (int up = 0; up <= STEP; up++)
        for (int along = -STEP; along <= STEP; along++)
            if (2 * votes[up][STEP + along] >= asked && up * up + along * along < least &&
                (!other || up * other[1] != along * other[0])) {
                least = up * up + along * along;
                step[0] = up;
                step[1] = along;
            }
    return least <= 2 * STEP * STEP;
}

static bool is_known(const struct symmetry_field *field, int row, int column)
{
    return (field->ring_rows || (row >= 0 && row < field->grid->nrows)) &&
           (field->ring || (column >= 0 && column < field->grid->ncols));
}

/* No two of the places the same round the join. */
static bool next_places(struct seeding *seeding, int step[2][2])
{
    const struct symmetry_field *field = seeding->field;
    int n = 0;

    for (int a = -1; a <= 1; a++)
        for (int b = -1; b <= 1; b++)
            for (int k = 0; k < 2 && (a != 0 || b != 0); k++)
                seeding->next[n / 2][k] = a * step[0][k] + b * step[1][k], n++;
    for (int i = 0; i < NEXT; i++)
        for (int j = 0; j <= i; j++) {
            int rows = seeding->next[i][0] - (j < i ? seeding->next[j][0] : 0);
            int columns = seeding->next[i][1] - (j < i ? seeding->next[j][1] : 0);

            if (rows % (field->ring_rows ? field->grid->nrows : 5 * STEP) == 0 &&
                columns % (field->ring ? field->grid->ncols : 5 * STEP) == 0)
                return false;
        }
    return true;
}

/* Of the next places those inside, and those of them that are taken. */
static int count_next(const struct seeding *seeding, int row, int column, int *taken)
{
    int known = 0;

    *taken = 0;
    for (int i = 0; i < NEXT; i++) {
        int r = row + seeding->next[i][0], c = column + seeding->next[i][1];

        known += is_known(seeding->field, r, c);
        *taken += is_seed(seeding->field, seeding->yarn, r, c);
    }
    return known;
}

/* Nothing but seeds as far as the next places lie: near a motif one is left out to give it room. Given:
 * the stitch beside the place, which may touch a seed; or the place. */
static bool lies_apart(const struct seeding *seeding, const struct proof_hole *hole, int row, int column)
{
    int far = ROOM;

    for (int i = 0; i < NEXT; i++)
        for (int k = 0; k < 2; k++)
            far = seeding->next[i][k] > far ? seeding->next[i][k] : far;
    for (int r = hole->row - far; r <= hole->row + far; r++)
        for (int c = hole->column - far; c <= hole->column + far; c++)
            if (yarn_at(seeding->field, r, c) != seeding->field->ground &&
                !is_seed(seeding->field, seeding->yarn, r, c) && (r != row || c != column))
                return false;
    return true;
}

/* Ground all round, but for one of that yarn. */
static bool lies_free(const struct seeding *seeding, struct proof_hole *hole)
{
    const struct symmetry_field *field = seeding->field;
    int nrows = field->grid->nrows, ncols = field->grid->ncols, beside = 0, row = hole->row,
        column = hole->column;

    hole->beside_row = hole->beside_column = -1;
    for (int r = hole->row - 1; r <= hole->row + 1; r++)
        for (int c = hole->column - 1; c <= hole->column + 1; c++) {
            uint8_t yarn = yarn_at(field, r, c);

            if (yarn == field->ground)
                continue;
            if (yarn != seeding->yarn || beside++ > 0)
                return false;
            row = r;
            column = c;
            hole->beside_row = (r + nrows) % nrows;
            hole->beside_column = (c + ncols) % ncols;
        }
    return lies_apart(seeding, hole, row, column);
}

struct tally {
    int holes, agreeing;
    int64_t wanting; /* stitches that ought to agree: each place with most of the next ones taken, left out or not */
};

/* A place counts twice at an edge, where what lies beyond could be as well the end of the seeding. */
static void tally_place(const struct seeding *seeding, int row, int column, int each, int most,
                        struct proof_hole *holes, struct tally *tally)
{
    const struct symmetry_field *field = seeding->field;
    struct proof_hole hole = {.row = row, .column = column, .yarn = seeding->yarn};
    int taken, known = count_next(seeding, row, column, &taken);

    if (is_seed(field, seeding->yarn, row, column))
        tally->agreeing += known > NEXT / 2 && taken >= known - 1;
    if (yarn_at(field, row, column) != field->ground || taken <= NEXT / 2)
        return;
    tally->wanting += known < NEXT ? 2 * each : each;
    if (taken < known || !lies_free(seeding, &hole))
        return;
    if (tally->holes < most)
        holes[tally->holes] = hole;
    tally->holes++;
}

int proof_holes(const struct symmetry_field *field, uint8_t yarn, int most, int each,
                struct proof_steps *steps, struct proof_hole *holes)
{
    struct seeding seeding = {.field = field, .yarn = yarn};
    struct tally tally = {0, 0, 0};
    int votes[STEP + 1][2 * STEP + 1] = {{0}}, step[2][2], asked;
    int64_t nseeds = yarn == field->ground || yarn == GRID_NO_STITCH ? 0 : count_seeds(field, yarn);

    *steps = (struct proof_steps){.agreeing = 0};
    if (nseeds < each)
        return 0;
    asked = count_steps(field, yarn, nseeds, votes);
    if (!shortest_step(votes, asked, NULL, step[0]) || !shortest_step(votes, asked, step[0], step[1]) ||
        !next_places(&seeding, step))
        return 0;
    for (int row = 0; row < field->grid->nrows; row++)
        for (int column = 0; column < field->grid->ncols; column++)
            tally_place(&seeding, row, column, each, most, holes, &tally);
    steps->agreeing = tally.agreeing;
    for (int k = 0; k < 2; k++) {
        steps->step[k].rows = step[k][0];
        steps->step[k].columns = step[k][1];
    }
    return tally.holes > most || tally.agreeing < tally.wanting || 2 * tally.agreeing < nseeds ? 0
                                                                                               : tally.holes;
}
