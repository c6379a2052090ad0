/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Second definition: every move of a chart is tried, all there are; and every product of the moves
 * found is made. Both must be the same moves.
 */
#include <CUnit/CUnit.h>
#include <string.h>

#include "fixture_work.h"
#include "model/motif/motif.h"
#include "small_chart.h"

enum { SIDE = 8 };

/* [column mirrored][row mirrored][column][row] */
struct moves {
    bool is[2][2][SIDE][SIDE];
};

/* The definition, written out: the stitch at (c, r) and the one it goes to are of one colour. */
static bool holds(const struct grid *grid, int across, int upside, int column, int row)
{
    for (int r = 0; r < grid->nrows; r++)
        for (int c = 0; c < grid->ncols; c++) {
            int to_c = ((across ? -c : c) + column + grid->ncols) % grid->ncols;
            int to_r = ((upside ? -r : r) + row + grid->nrows) % grid->nrows;

            if (grid->cell[r * grid->ncols + c] != grid->cell[to_r * grid->ncols + to_c])
                return false;
        }
    return true;
}

static struct moves moves_tried(const struct grid *grid)
{
    struct moves moves = {0};

    for (int i = 0; i < 4 * grid->ncols * grid->nrows; i++) {
        int c = i / 4 % grid->ncols, r = i / 4 / grid->ncols;

        moves.is[i % 2][i / 2 % 2][c][r] = holds(grid, i % 2, i / 2 % 2, c, r);
    }
    return moves;
}

/* One more move behind all there are; false: nothing new. */
static bool moves_multiply(struct moves *moves, const struct symmetry *by, int ncols, int nrows)
{
    bool grew = false;

    for (int i = 0; i < 4 * ncols * nrows; i++) {
        int across = i % 2, upside = i / 2 % 2, c = i / 4 % ncols, r = i / 4 / ncols;
        int to_c = symmetry_column(by, c, ncols), to_r = symmetry_row(by, r, nrows);
        bool *product =
            &moves->is[across ^ by->column_is_mirrored][upside ^ by->row_is_mirrored][to_c][to_r];

        if (moves->is[across][upside][c][r] && !*product)
            *product = grew = true;
    }
    return grew;
}

static struct moves moves_of(const struct motif *motif, int ncols, int nrows)
{
    struct moves moves = {0};
    bool grew = true;

    moves.is[0][0][0][0] = true;
    while (grew) {
        grew = false;
        for (int i = 0; i < motif->nmoves; i++)
            grew |= moves_multiply(&moves, &motif->move[i], ncols, nrows);
    }
    return moves;
}

/* Charts of every symmetry: dice, then made symmetrical under a few moves that are rolled too. */
static struct grid roll_chart(uint64_t *state, uint8_t *cell)
{
    int ncols = 1 + (int)dice_below(state, SIDE), nrows = 1 + (int)dice_below(state, SIDE);
    int yarns = 2 + (int)dice_below(state, 2);

    for (int i = 0; i < ncols * nrows; i++)
        cell[i] = (uint8_t)dice_below(state, (uint32_t)yarns);
    for (uint32_t again = dice_below(state, 4); again > 0; again--) {
        struct symmetry move = {.column_is_mirrored = dice_below(state, 2) == 0,
                                .row_is_mirrored = dice_below(state, 2) == 0,
                                .column = (int)dice_below(state, (uint32_t)ncols),
                                .row = (int)dice_below(state, (uint32_t)nrows)};

        for (int times = 0; times < SIDE * SIDE; times++) /* until it has gone all the way round */
            for (int i = 0; i < ncols * nrows; i++) {
                uint8_t *to = &cell[symmetry_row(&move, i / ncols, nrows) * ncols +
                                    symmetry_column(&move, i % ncols, ncols)];

                if (*to < cell[i])
                    *to = cell[i];
            }
    }
    return (struct grid){nrows, ncols, cell};
}

static void finds_every_symmetry(void)
{
    uint64_t state = 20;
    uint8_t cell[SIDE * SIDE];
    int wrong = 0, symmetrical = 0;

    for (int i = 0; i < 3000; i++) {
        struct grid grid = roll_chart(&state, cell);
        struct moves tried = moves_tried(&grid);
        struct motif motif = motif_find(&grid, true);
        struct moves found = moves_of(&motif, grid.ncols, grid.nrows);

        wrong += memcmp(&tried, &found, sizeof tried) != 0;
        symmetrical += motif.nmoves > 0;
    }
    CU_ASSERT_EQUAL(wrong, 0);
    CU_ASSERT(symmetrical > 1000 && symmetrical < 3000);
}

/* Not a ring upwards: no row changes places with one it does not mirror on the page. */
static void leaves_the_top_apart_from_the_bottom(void)
{
    uint64_t state = 21;
    uint8_t cell[SIDE * SIDE];

    for (int i = 0; i < 2000; i++) {
        struct grid grid = roll_chart(&state, cell);
        struct moves tried = moves_tried(&grid);
        struct motif motif = motif_find(&grid, false);
        bool middle = false;

        for (int m = 0; m < motif.nmoves; m++) {
            const struct symmetry *move = &motif.move[m];

            CU_ASSERT(tried.is[move->column_is_mirrored][move->row_is_mirrored][move->column][move->row]);
            if (move->row_is_mirrored)
                CU_ASSERT(move->row == grid.nrows - 1 || 2 * (move->row + 1) == grid.nrows);
            middle |= move->kind == SYMMETRY_UPSIDE;
        }
        if (tried.is[0][1][0][grid.nrows - 1])
            CU_ASSERT(middle);
    }
}

static const struct symmetry *of_kind(const struct motif *motif, enum symmetry_kind kind)
{
    for (int i = 0; i < motif->nmoves; i++)
        if (motif->move[i].kind == kind)
            return &motif->move[i];
    return NULL;
}

/* Seen by eye on the page. */
static void names_what_is_seen(void)
{
    static const char *const drop[] = {".x......", "xxx.....", ".x......", "........",
                                       ".....x..", "....xxx.", ".....x..", "........"};
    static const char *const turn[] = {"xx......", "..x.....", ".....x..", "......xx"};
    struct work work = fixture_work();
    struct grid grid = SMALL_CHART(work.arena, drop, ".x");
    struct motif motif = motif_find(&grid, true);

    CU_ASSERT_PTR_NOT_NULL_FATAL(of_kind(&motif, SYMMETRY_DROP));
    CU_ASSERT_EQUAL(of_kind(&motif, SYMMETRY_DROP)->column, 4);
    CU_ASSERT_EQUAL(of_kind(&motif, SYMMETRY_DROP)->row, 4);
    CU_ASSERT_PTR_NOT_NULL(of_kind(&motif, SYMMETRY_ACROSS));
    CU_ASSERT_PTR_NOT_NULL(of_kind(&motif, SYMMETRY_UPSIDE));
    grid = SMALL_CHART(work.arena, turn, ".x");
    motif = motif_find(&grid, false);
    CU_ASSERT_EQUAL(motif.nmoves, 1);
    CU_ASSERT_PTR_NOT_NULL(of_kind(&motif, SYMMETRY_TURN));
    fixture_end(&work);
}

/* A move of the old chart that a line says it keeps is one of a whole number of new squares, and the
 * axis has gone nowhere but to the nearest of its kind: under one new square off. */
static void keeps_moves_whole(void)
{
    uint64_t state = 22;
    uint8_t cell[SIDE * SIDE];

    for (int i = 0; i < 1000; i++) {
        struct grid grid = roll_chart(&state, cell);
        struct motif motif = motif_find(&grid, true);
        int count = 1 + (int)dice_below(&state, 16);
        struct motif_line line = motif_line_of(&motif, true, grid.ncols, count);

        CU_ASSERT(line.phase >= -grid.ncols && line.phase <= grid.ncols);
        for (int m = 0; m < motif.nmoves; m++)
            if (motif.move[m].kind == SYMMETRY_ALONG)
                CU_ASSERT_EQUAL(line.keeps[m], motif.move[m].column * count % grid.ncols == 0);
        if (of_kind(&motif, SYMMETRY_ACROSS) && count % 2 != grid.ncols % 2)
            CU_ASSERT_FALSE(line.keeps_middle);
    }
}

CU_TestInfo tests_motif[] = {
    {"finds every symmetry", finds_every_symmetry},
    {"leaves the top apart from the bottom", leaves_the_top_apart_from_the_bottom},
    {"names what is seen", names_what_is_seen},
    {"keeps moves whole", keeps_moves_whole},
    CU_TEST_INFO_NULL,
};
