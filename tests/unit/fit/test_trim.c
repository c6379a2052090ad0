/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Which column is left out, and what goes with it: by hand, and random charts against a second definition:
 * the runs of the ring numbered, and those that lose every stitch.
 */
#include "fixture_fit.h"
#include "small_chart.h"

extern CU_TestInfo tests_trim[];

/* A leaf on a stem: vein, stem and tip are the eighth column; the fifteenth is plain, as the first is. */
static const char *const leaf[] = {
    ".......x.......", "......x.x......", ".....xx.xx.....", "...xxxx.xxxx...",
    ".....xx.xx.....", "......x.x......", ".......x.......",
};

static struct fit_question question_of(const struct fit_chart *chart, int64_t target_sts)
{
    return (struct fit_question){.target_sts = rational_whole(target_sts),
                                 .per_in = rational_whole(7),
                                 .repeat_sts = chart->repeat->ncols,
                                 .round = true,
                                 .chart = chart,
                                 .near_ratio = 0.01,
                                 .far_ratio = 0.1};
}

/* 154 = 11 x 14: by hand the plain column at the join goes, nothing is cut, the mirror stays. */
static void leaf_keeps_its_vein(void)
{
    struct work work = new_work();
    struct grid grid = SMALL_CHART(work.arena, leaf, ".x"), none = {grid.nrows, 0, NULL};
    struct fit_chart chart = {&grid, &none, &none, 10, 1, FLOATS_RING, rational_whole(1), false};
    struct fit_question question = question_of(&chart, 154);
    const struct fit_remedy *remedies, *trim = NULL;
    int count;

    remedies = ways_round(&work, &question, &count);
    for (int i = 0; i < count; i++)
        if (remedies[i].kind == FIT_TRIM_OR_PAD && !remedies[i].remake.twice)
            trim = &remedies[i];
    CU_ASSERT_PTR_NOT_NULL_FATAL(trim);
    CU_ASSERT_EQUAL(trim->remake.column[0], 14);
    CU_ASSERT_EQUAL(trim->ntorn_rows, 0);
    CU_ASSERT_TRUE(trim->remake.mirrored);
    CU_ASSERT_PTR_NOT_NULL(strstr(trim->line, "column 15 of the chart, one of two alike"));
    CU_ASSERT_PTR_NULL(strstr(trim->line, "cuts"));
    arena_destroy(work.arena);
}

/* With edges the vein is all there is on the mirror line: stem and tip go (rows 1 and 7 become all ground)
 * and in the five between the two halves become one. It is said, and comes after what cuts nothing. */
static void what_is_cut_is_said(void)
{
    struct work work = new_work();
    struct grid grid = SMALL_CHART(work.arena, leaf, ".x"), none = {grid.nrows, 0, NULL};
    struct fit_chart chart = {&grid, &none, &none, 10, 1, FLOATS_TURN, rational_whole(3), false};
    struct fit_question question = question_of(&chart, 154);
    const struct fit_remedy *remedies, *trim = NULL;
    bool cut_before = false;
    int count;

    remedies = ways_round(&work, &question, &count);
    for (int i = 0; i < count; i++) {
        if (remedies[i].meets && remedies[i].ntorn_rows == 0)
            CU_ASSERT_FALSE(cut_before);
        cut_before = cut_before || (remedies[i].meets && remedies[i].ntorn_rows > 0);
        if (remedies[i].kind == FIT_TRIM_OR_PAD && !remedies[i].remake.twice)
            trim = &remedies[i];
    }
    CU_ASSERT_PTR_NOT_NULL_FATAL(trim);
    CU_ASSERT_EQUAL(trim->remake.column[0], 7);
    CU_ASSERT_EQUAL_FATAL(trim->ntorn_rows, 7);
    CU_ASSERT_EQUAL(trim->torn_rows[0], 0);
    CU_ASSERT_PTR_NOT_NULL(strstr(trim->line, "That cuts a line of the pattern in chart rounds 1-7."));
    CU_ASSERT_PTR_NOT_NULL(strstr(trim->brief, "; cuts a line in rounds 1-7"));
    arena_destroy(work.arena);
}

/* A dot alone, a line two wide, one and one: by hand which rows lose a run. */
static void lost_rows_by_hand(void)
{
    static const char *const was[] = {"xxxx..", ".x.x.x", "..xx..", "...x..", "x....x"};
    static const char *const now[] = {"xxxx.", ".x..x", "..x..", ".....", "x...x"};
    struct work work = new_work();
    struct grid before = SMALL_CHART(work.arena, was, ".x"), after = SMALL_CHART(work.arena, now, ".x");
    int count;
    const int *rows = remake_lost_rows(&work, &before, &after, &count);

    CU_ASSERT_EQUAL_FATAL(count, 1);
    CU_ASSERT_EQUAL(rows[0], 1);
    arena_destroy(work.arena);
}

/* --- a second definition ------------------------------------------------------------------ */

enum { SIDE_MOST = 10 };

static bool turns(const uint8_t *row, int n)
{
    bool two = n % 2 == 0;

    for (int c = 0; c < n; c++)
        two = two && row[c] != row[(c + 1) % n] && row[c] == row[(c + 2) % n];
    return two;
}

/* Numbers the runs of the ring: each stitch has the place where its run begins. */
static void number_runs(const uint8_t *row, int n, int run[SIDE_MOST])
{
    for (int c = 0; c < n; c++) {
        int start = c, steps = 0;

        while (steps++ < n && row[start] == row[(start + n - 1) % n])
            start = (start + n - 1) % n;
        run[c] = steps > n ? 0 : start;
    }
}

static bool row_loses(const uint8_t *row, int n, unsigned gone)
{
    int run[SIDE_MOST], sts[SIDE_MOST] = {0}, left[SIDE_MOST] = {0};
    bool loses = false;

    number_runs(row, n, run);
    for (int c = 0; c < n; c++) {
        sts[run[c]]++;
        left[run[c]] += !(gone >> c & 1u);
    }
    for (int c = 0; c < n; c++)
        loses = loses || (sts[c] > 0 && left[c] == 0);
    return loses && !turns(row, n);
}

static int rows_lost(const struct grid *grid, unsigned gone)
{
    int lost = 0;

    for (int row = 0; row < grid->nrows; row++)
        lost += row_loses(grid->cell + row * grid->ncols, grid->ncols, gone);
    return lost;
}

static bool mirrors(const struct grid *grid)
{
    int n = grid->ncols;

    for (int axis = 0; axis < n; axis++) {
        bool alike = true;

        for (int i = 0; i < grid->nrows * n; i++)
            alike = alike && grid->cell[i] == grid->cell[i / n * n + (axis - i % n + n) % n];
        if (alike)
            return true;
    }
    return false;
}

static struct grid without(struct work *work, const struct grid *grid, unsigned gone)
{
    struct grid left = {grid->nrows, 0, NULL};
    uint8_t *cell = arena_alloc(work->arena, (size_t)grid->nrows * (size_t)grid->ncols, 1);
    int n = 0;

    for (int i = 0; i < grid->nrows * grid->ncols; i++)
        if (!(gone >> (i % grid->ncols) & 1u))
            cell[n++] = grid->cell[i];
    left.ncols = n / grid->nrows;
    left.cell = cell;
    return left;
}

/* The fewest rows any choice that keeps the mirror loses: one column, or any two that do not touch; of a chart
 * that mirrors, two that mirror each other about its first axis are all that is asked of. */
static int least_lost(struct work *work, const struct grid *grid, int size, bool mirrored)
{
    int n = grid->ncols, least = 100;

    for (int a = 0; a < n; a++)
        for (int b = a + 1; b <= n; b++) {
            unsigned gone = 1u << a | (size == 2 && b < n ? 1u << b : 0u);
            struct grid left;

            if ((size == 1) != (b == n) || (size == 2 && !mirrored && (b == a + 1 || b - a == n - 1)))
                continue;
            left = without(work, grid, gone);
            if ((!mirrored || mirrors(&left)) && rows_lost(grid, gone) < least)
                least = rows_lost(grid, gone);
        }
    return least;
}

/* Charts with one axis through a stitch of odd widths, or none: there every choice is open to it. */
static void random_charts(void)
{
    uint64_t state = 11;
    int wrong = 0, tried[2] = {0, 0}, cut = 0;

    for (int turn = 0; turn < 6000; turn++) {
        struct work work = new_work();
        uint8_t cells[4 * SIDE_MOST];
        int n = 4 + (int)dice_below(&state, SIDE_MOST - 3), size = 1 + (int)dice_below(&state, 2);
        struct grid grid = {1 + (int)dice_below(&state, 4), n, cells};
        bool to_mirror = dice_below(&state, 2) == 0;
        struct remake remake;

        for (int i = 0; i < grid.nrows * n; i++) {
            int c = i % n;

            cells[i] = (uint8_t)(dice_below(&state, 3) == 0 ? 1 + dice_below(&state, 2) : 0);
            if (to_mirror && c > n - 1 - c)
                cells[i] = cells[i - c + n - 1 - c];
        }
        if (remake_find_columns(&work, &grid, -size, REMAKE_RING, &remake)) {
            unsigned gone = 1u << remake.column[0] | (size == 2 ? 1u << remake.column[1] : 0u);
            struct grid left = without(&work, &grid, gone);
            int count, lost = rows_lost(&grid, gone);
            const int *rows = remake_lost_rows(&work, &grid, &left, &count);

            wrong += count != lost;
            for (int i = 0; i < count; i++)
                wrong += !row_loses(cells + rows[i] * n, n, gone);
            wrong += remake.mirrored && !mirrors(&left);
            if (!remake.mirrored || (size == 1 && n % 2 == 1)) {
                wrong += lost > least_lost(&work, &grid, size, false) && !remake.mirrored;
                wrong += remake.mirrored && lost > least_lost(&work, &grid, size, true);
                tried[remake.mirrored]++;
                cut += lost > 0;
            }
        }
        arena_destroy(work.arena);
    }
    CU_ASSERT_EQUAL(wrong, 0);
    CU_ASSERT_TRUE(tried[0] > 1000 && tried[1] > 300);
    CU_ASSERT_TRUE(cut > 300);
}

CU_TestInfo tests_trim[] = {
    {"a leaf keeps its vein", leaf_keeps_its_vein},
    {"what is cut is said", what_is_cut_is_said},
    {"rows that lose a run, by hand", lost_rows_by_hand},
    {"random charts against a second definition", random_charts},
    CU_TEST_INFO_NULL,
};
