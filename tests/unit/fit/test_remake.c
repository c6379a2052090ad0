/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Charts changed by columns: some by hand, all small ones against a second definition.
 */
#include <CUnit/CUnit.h>
#include <string.h>

#include "base/arena.h"
#include "base/work.h"
#include "model/fit/remake.h"
#include "small_chart.h"

extern CU_TestInfo tests_remake[];

static struct work new_work(void)
{
    return (struct work){.arena = arena_create((size_t)1 << 28)};
}

static struct remake_band band_of(struct grid repeat, int repeats)
{
    struct grid none = {repeat.nrows, 0, NULL};

    return (struct remake_band){repeat, none, none, repeats};
}

/* A row of a grid as it is drawn: the first stitch at the right. */
static const char *row_text(const struct grid *grid, int row, const char *marks)
{
    static char text[200];
    int n = grid->ncols;

    for (int c = 0; c < n; c++)
        text[n - 1 - c] = marks[grid->cell[(size_t)row * (size_t)n + (size_t)c]];
    text[n] = '\0';
    return text;
}

/* By hand. Columns count from the right; top row first. */
static const char *const tree[] = {"...x...", "..xxx..", ".xxxxx.", "...x..."};

static void plain_columns_by_hand(void)
{
    struct work work = new_work();
    struct grid grid = SMALL_CHART(work.arena, tree, ".x");
    struct remake_band band = band_of(grid, 3), changed;
    struct remake remake = {.kind = REMAKE_PLAIN_COLUMNS, .plain_columns = 2, .plain_after = 7};

    CU_ASSERT_EQUAL(remake_plain_place(&work, &grid, false), 7);
    CU_ASSERT_TRUE(remake_apply(&work, &remake, &grid, &band, &changed));
    CU_ASSERT_EQUAL(changed.repeats, 3);
    CU_ASSERT_STRING_EQUAL(row_text(&changed.repeat, 1, ".x"), "...xxxxx.");
    CU_ASSERT_STRING_EQUAL(row_text(&changed.repeat, 0, ".x"), ".....x...");
    arena_destroy(work.arena);
}

/* The motif lies across the join: it parts after column 4. A row without the ground is its own. */
static void plain_columns_where_the_motifs_part(void)
{
    static const char *const across[] = {"xx...xx", "x.....x", "bbbbbbb", "x.....x"};
    struct work work = new_work();
    struct grid grid = SMALL_CHART(work.arena, across, ".xb");
    struct remake_band band = band_of(grid, 1), changed;
    struct remake remake = {.kind = REMAKE_PLAIN_COLUMNS, .plain_columns = 1};

    remake.plain_after = remake_plain_place(&work, &grid, false);
    CU_ASSERT_EQUAL(remake.plain_after, 3);
    CU_ASSERT_EQUAL(remake_plain_place(&work, &grid, true), 7);
    CU_ASSERT_TRUE(remake_apply(&work, &remake, &grid, &band, &changed));
    CU_ASSERT_STRING_EQUAL(row_text(&changed.repeat, 3, ".xb"), "xx....xx");
    CU_ASSERT_STRING_EQUAL(row_text(&changed.repeat, 1, ".xb"), "bbbbbbbb");
    arena_destroy(work.arena);
}

/* By hand, columns from the right. A wave whose second row runs over the join, with a step aslant from the
 * third to the fourth: after column 3 nothing is cut. A zigzag is cut wherever it is parted, level where it
 * turns (after column 4 in the bottom row), else aslant; one and one is no line. */
static void plain_columns_cut_lines(void)
{
    static const char *const wave[] = {".....x", "x.....", "......", "x....x", "......"};
    static const char *const zigzag[] = {".xx.", "x..x"};
    static const char *const checks[] = {".x.x.x", "x.x.x.", "......", "......"};
    struct work work = new_work();
    struct grid grid = SMALL_CHART(work.arena, wave, ".x");
    const int *rows;
    int count;

    rows = remake_torn_rows(&work, &grid, 6, &count);
    CU_ASSERT_EQUAL_FATAL(count, 3);
    CU_ASSERT_EQUAL(rows[0], 1);
    CU_ASSERT_EQUAL(rows[1], 3);
    CU_ASSERT_EQUAL(rows[2], 4);
    remake_torn_rows(&work, &grid, 3, &count);
    CU_ASSERT_EQUAL(count, 0);
    CU_ASSERT_EQUAL(remake_plain_place(&work, &grid, false), 2);
    CU_ASSERT_EQUAL(remake_plain_place(&work, &grid, true), 6);
    grid = SMALL_CHART(work.arena, zigzag, ".x");
    rows = remake_torn_rows(&work, &grid, 4, &count);
    CU_ASSERT_EQUAL_FATAL(count, 1);
    CU_ASSERT_EQUAL(rows[0], 0);
    rows = remake_torn_rows(&work, &grid, 1, &count);
    CU_ASSERT_EQUAL_FATAL(count, 2);
    grid = SMALL_CHART(work.arena, checks, ".x");
    remake_torn_rows(&work, &grid, 6, &count);
    CU_ASSERT_EQUAL(count, 0);
    arena_destroy(work.arena);
}

static void columns_by_hand(void)
{
    struct work work = new_work();
    struct grid grid = SMALL_CHART(work.arena, tree, ".x");
    struct remake_band band = band_of(grid, 2), changed;
    struct remake remake;

    /* The one column on the centre line holds the trunk, alone in two rows; of the two that mirror each
     * other over the join either may go, with edges neither. */
    CU_ASSERT_TRUE(remake_find_columns(&work, &grid, -1, REMAKE_RING, &remake));
    CU_ASSERT_EQUAL(remake.column[0], 6);
    CU_ASSERT_EQUAL(remake.lone_sts, 0);
    CU_ASSERT_TRUE(remake.mirrored);
    CU_ASSERT_TRUE(remake.one_of_two);
    CU_ASSERT_TRUE(remake_find_columns(&work, &grid, -1, REMAKE_OPEN, &remake));
    CU_ASSERT_EQUAL(remake.column[0], 3);
    CU_ASSERT_EQUAL(remake.lone_sts, 2);
    CU_ASSERT_FALSE(remake.one_of_two);
    /* The outermost pair is all that parts the widest branches of two trees: the next one goes. */
    CU_ASSERT_TRUE(remake_find_columns(&work, &grid, -2, REMAKE_RING, &remake));
    CU_ASSERT_EQUAL(remake.column[0], 1);
    CU_ASSERT_EQUAL(remake.column[1], 5);
    CU_ASSERT_TRUE(remake_apply(&work, &remake, &grid, &band, &changed));
    CU_ASSERT_STRING_EQUAL(row_text(&changed.repeat, 1, ".x"), ".xxx.");
    /* Not with side stitches: the next pair. */
    CU_ASSERT_TRUE(remake_find_columns(&work, &grid, 2, REMAKE_KEEP_ENDS, &remake));
    CU_ASSERT_EQUAL(remake.column[0], 1);
    CU_ASSERT_TRUE(remake_apply(&work, &remake, &grid, &band, &changed));
    CU_ASSERT_STRING_EQUAL(row_text(&changed.repeat, 1, ".x"), ".xxxxxxx.");
    CU_ASSERT_STRING_EQUAL(row_text(&changed.repeat, 2, ".x"), "...xxx...");
    CU_ASSERT_FALSE(remake_find_columns(&work, &grid, 3, REMAKE_RING, &remake));
    arena_destroy(work.arena);
}

static void sides_by_hand(void)
{
    static const char *const text[] = {"abc"};
    struct work work = new_work();
    struct grid grid = SMALL_CHART(work.arena, text, "abcz");
    struct remake_band band = band_of(grid, 2), changed;
    struct remake remake = {.kind = REMAKE_SIDES, .right_over = 2, .left_over = 1, .ring = true};

    /* ...abc|abc|abc...: two before the repeats, one after them. */
    CU_ASSERT_TRUE(remake_apply(&work, &remake, &grid, &band, &changed));
    CU_ASSERT_EQUAL(changed.repeats, 1);
    CU_ASSERT_STRING_EQUAL(row_text(&changed.repeat, 0, "abcz"), "cabcabcab");
    remake.ring = false;
    CU_ASSERT_TRUE(remake_apply(&work, &remake, &grid, &band, &changed));
    CU_ASSERT_EQUAL(changed.repeats, 2);
    CU_ASSERT_STRING_EQUAL(row_text(&changed.right, 0, "abcz"), "ab");
    CU_ASSERT_STRING_EQUAL(row_text(&changed.left, 0, "abcz"), "c");
    /* Side stitches stay outermost. */
    band.left = band.right = (struct grid){1, 1, (const uint8_t *)"\3"};
    CU_ASSERT_TRUE(remake_apply(&work, &remake, &grid, &band, &changed));
    CU_ASSERT_STRING_EQUAL(row_text(&changed.right, 0, "abcz"), "abz");
    CU_ASSERT_STRING_EQUAL(row_text(&changed.left, 0, "abcz"), "zc");
    remake.over_plain = true;
    CU_ASSERT_TRUE(remake_apply(&work, &remake, &grid, &band, &changed));
    CU_ASSERT_STRING_EQUAL(row_text(&changed.right, 0, "abcz"), "aaz");
    arena_destroy(work.arena);
}

/* A round of more stitches than a chart may have columns. */
static void too_large(void)
{
    static const char *const text[] = {"ab"};
    struct work work = new_work();
    struct grid grid = SMALL_CHART(work.arena, text, "ab");
    struct remake_band band = band_of(grid, GRID_SIDE_MAX / 2), changed;
    struct remake remake = {.kind = REMAKE_SIDES, .right_over = 1, .ring = true};

    CU_ASSERT_FALSE(remake_apply(&work, &remake, &grid, &band, &changed));
    arena_destroy(work.arena);
}

/* --- every small chart ------------------------------------------------------------------- */

static bool mirrors(const struct grid *grid)
{
    for (int axis = 0; axis < grid->ncols; axis++) {
        bool alike = true;

        for (int row = 0; row < grid->nrows; row++)
            for (int c = 0; c < grid->ncols; c++) {
                const uint8_t *cell = grid->cell + (size_t)row * (size_t)grid->ncols;

                alike = alike && cell[c] == cell[(axis - c + grid->ncols) % grid->ncols];
            }
        if (alike)
            return true;
    }
    return false;
}

/* The columns named, taken away or set twice one at a time from the left, give the same. */
static bool same_by_hand(const struct grid *grid, const struct remake *remake,
                         const struct grid *changed)
{
    for (int row = 0; row < grid->nrows; row++) {
        uint8_t cells[64];
        int n = grid->ncols;

        memcpy(cells, grid->cell + (size_t)row * (size_t)n, (size_t)n);
        for (int i = remake->ncolumns - 1; i >= 0; i--) {
            int c = remake->column[i];

            if (remake->twice)
                memmove(cells + c + 1, cells + c, (size_t)(n - c));
            else
                memmove(cells + c, cells + c + 1, (size_t)(n - c - 1));
            n += remake->twice ? 1 : -1;
        }
        if (n != changed->ncols || memcmp(cells, changed->cell + (size_t)row * (size_t)n, (size_t)n) != 0)
            return false;
    }
    return true;
}

static int faults_of(struct work *work, const struct grid *grid, int change, int *found)
{
    struct remake remake;
    struct remake_band band = band_of(*grid, 1), changed;
    int faults = 0;

    if (!remake_find_columns(work, grid, change, REMAKE_RING, &remake))
        return 0;
    (*found)++;
    faults += remake.mirrored != mirrors(grid);
    faults += remake.ncolumns != (change < 0 ? -change : change);
    if (!remake_apply(work, &remake, grid, &band, &changed))
        return faults + 1;
    faults += !same_by_hand(grid, &remake, &changed.repeat);
    faults += remake.mirrored && !mirrors(&changed.repeat);
    return faults;
}

static void every_small_chart_keeps_its_mirror(void)
{
    int faults = 0, found = 0;

    for (int ncols = 3; ncols <= 6; ncols++)
        for (unsigned bits = 0; bits < 1u << (2 * ncols); bits++) {
            struct work work = new_work();
            uint8_t cells[12];
            struct grid grid = {2, ncols, cells};

            for (int i = 0; i < 2 * ncols; i++)
                cells[i] = (uint8_t)(bits >> i & 1u);
            for (int change = -2; change <= 2; change++)
                faults += change == 0 ? 0 : faults_of(&work, &grid, change, &found);
            arena_destroy(work.arena);
        }
    CU_ASSERT_EQUAL(faults, 0);
    CU_ASSERT_TRUE(found > 15000);
}

/* Stitches of a column that neither neighbour in the ring is alike. */
static int lone_in(const struct grid *grid, int column)
{
    int n = grid->ncols, lone = 0;

    for (int row = 0; row < grid->nrows; row++) {
        const uint8_t *cell = grid->cell + row * n;

        lone += cell[column] != cell[(column + 1) % n] && cell[column] != cell[(column + n - 1) % n];
    }
    return lone;
}

/* Of all pairs that do not touch none has fewer lone stitches: every chart of 2 x 6 and 2 x 7 without a mirror. */
static void pairs_all_tried(void)
{
    int wrong = 0, tried = 0;

    for (int ncols = 6; ncols <= 7; ncols++)
        for (unsigned bits = 0; bits < 1u << (2 * ncols); bits++) {
            struct work work = new_work();
            uint8_t cells[14];
            struct grid grid = {2, ncols, cells};
            struct remake remake;
            int least = 100;

            for (int i = 0; i < 2 * ncols; i++)
                cells[i] = (uint8_t)(bits >> i & 1u);
            if (!mirrors(&grid) && remake_find_columns(&work, &grid, -2, REMAKE_RING, &remake)) {
                for (int a = 0; a < ncols; a++)
                    for (int b = a + 2; b < ncols - (a == 0); b++)
                        least = lone_in(&grid, a) + lone_in(&grid, b) < least
                                    ? lone_in(&grid, a) + lone_in(&grid, b)
                                    : least;
                wrong += remake.lone_sts != least ||
                         lone_in(&grid, remake.column[0]) + lone_in(&grid, remake.column[1]) != least;
                tried++;
            }
            arena_destroy(work.arena);
        }
    CU_ASSERT_EQUAL(wrong, 0);
    CU_ASSERT_TRUE(tried > 1000);
}

/* Every row of up to 8 stitches in three yarns: one and one by name of its neighbours. */
static void one_and_one_by_neighbours(void)
{
    uint8_t both[2 * 8];
    int faults = 0, found = 0;

    for (int n = 2; n <= 8; n++) {
        uint8_t *cell = both + n; /* above a row of stitches like none of its own */
        int rows = 1;

        memset(both, 3, (size_t)n);
        for (int i = 0; i < n; i++)
            rows *= 3;
        for (int code = 0; code < rows; code++) {
            struct grid grid = {2, n, both};
            bool turns = true, seen[3] = {false, false, false};

            for (int i = 0, rest = code; i < n; i++, rest /= 3) {
                cell[i] = (uint8_t)(rest % 3);
                seen[cell[i]] = true;
            }
            for (int i = 0; i < n; i++)
                turns = turns && cell[i] != cell[(i + 1) % n];
            turns = turns && seen[0] + seen[1] + seen[2] == 2;
            faults += remake_is_one_and_one(&grid, 1) != turns;
            found += turns;
        }
    }
    CU_ASSERT_EQUAL(faults, 0);
    CU_ASSERT_EQUAL(found, 4 * 6); /* even widths, pairs of three yarns, either first */
}

/* "abcd" over "dcba", begun with its third: by hand; begun so twice it is as it was. */
static void begun_by_hand(void)
{
    static const char *const text[] = {"dcba", "abcd"};
    struct work work = new_work();
    struct grid grid = SMALL_CHART(work.arena, text, "abcd"), begun = remake_begin(&work, &grid, 2), again;

    CU_ASSERT_STRING_EQUAL(row_text(&begun, 0, "abcd"), "cdab");
    CU_ASSERT_STRING_EQUAL(row_text(&begun, 1, "abcd"), "badc");
    again = remake_begin(&work, &begun, 2);
    CU_ASSERT_EQUAL(memcmp(again.cell, grid.cell, 8), 0);
    CU_ASSERT_PTR_EQUAL(remake_begin(&work, &grid, 0).cell, grid.cell);
    arena_destroy(work.arena);
}

CU_TestInfo tests_remake[] = {
    {"begun with another stitch, by hand", begun_by_hand},
    {"plain columns that cut a line", plain_columns_cut_lines},
    {"plain columns by hand", plain_columns_by_hand},
    {"plain columns where the motifs part", plain_columns_where_the_motifs_part},
    {"columns left out or worked twice, by hand", columns_by_hand},
    {"part repeats by hand", sides_by_hand},
    {"one and one", one_and_one_by_neighbours},
    {"too large for a chart", too_large},
    {"every small chart keeps its mirror", every_small_chart_keeps_its_mirror},
    {"pairs, all tried", pairs_all_tried},
    CU_TEST_INFO_NULL,
};
