/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Close catches: small charts counted by hand, totals against those of the plan (counted by the
 * model in another way), crowding against every distance measured one by one.
 */
#include <CUnit/Basic.h>
#include <string.h>

#include "run.h"
#include "base/arena.h"
#include "fixture_plan.h"
#include "plan/catches/dents.h"
#include "render/draw/draw.h"

/* Six by three. Catches: row 1 behind columns 3 and 6; row 2 behind 1, and twice behind 3; row 3
 * behind 4 and 6. */
static const char *const six_rows[] = {"......", "......", "......", NULL};

static struct plan *six(struct work *work, int upwards, int stagger_cols)
{
    static const struct fixture_catch catches[] = {
        {1, 3, FIXTURE_SLATE}, {1, 6, FIXTURE_SLATE}, {2, 1, FIXTURE_SLATE}, {2, 3, FIXTURE_CREAM},
        {2, 3, FIXTURE_SLATE}, {3, 4, FIXTURE_SLATE}, {3, 6, FIXTURE_SLATE}};
    struct plan *plan = fixture_plan(work, six_rows, 3, true);
    struct plan_band *band = plan->piece.bands;

    band->catches = fixture_catches(work, catches, 7);
    band->upwards = upwards;
    band->dents = (struct plan_dents){
        .within_in = 0.5, .step = {2, 3, 4}, .ridge_ratio = 2, .ridge_least = 3};
    plan->stagger_cols = stagger_cols;
    plan->piece.gauge.per_in = 2; /* half an inch is one stitch, or one row */
    plan->piece.gauge.rows_per_in = 2;
    return plan;
}

static const struct plan_dents *dents_of(struct work *work, struct plan *plan)
{
    plan_dents_read(work, &plan->piece.bands[0], &plan->piece.gauge, plan->stagger_cols);
    return &plan->piece.bands[0].dents;
}

/* A stitch and those it is joined to: bits of them all, and how many. */
static unsigned joined_at(const struct plan_dents *dents, int row, int column)
{
    return dents->joined[row * dents->ncols + column];
}

static int joined_in_row(const struct plan_dents *dents, int row)
{
    int n = 0;

    for (int column = 0; column < dents->ncols; column++)
        for (unsigned bits = joined_at(dents, row, column); bits > 0; bits &= bits - 1)
            n++;
    return n;
}

static int paths_and_lines(const struct sheet *sheet, const char *label, int *lines)
{
    int paths = 0;

    *lines = 0;
    for (const struct sheet_item *item = sheet->first; item; item = item->next) {
        if (!item->label || strcmp(item->label, label) != 0)
            continue;
        paths++;
        for (size_t i = 0; i < item->count; i++)
            *lines += item->kind == SHEET_PATH && item->point[i].what == 'M';
    }
    return paths;
}

/* By hand. Rows 1 and 2: column 3 twice on column 3; 6 beside 1 over the join. Row 2: two behind
 * column 3. Rows 2 and 3: 1 beside 6 over the join; twice 3 beside 4. Rows 3 and 1 of the next
 * time: 6 on 6; 4 beside 3. The whole band: 3 repeats, all twice, but the meeting of the times
 * once. */
static void pairs_by_hand(void)
{
    struct work work = fixture_plan_work();
    const struct plan_dents *dents = dents_of(&work, six(&work, 2, 2));

    CU_ASSERT_EQUAL(dents->once[DENT_STACKED], 3);
    CU_ASSERT_EQUAL(dents->once[DENT_DOUBLED], 1);
    CU_ASSERT_EQUAL(dents->once[DENT_TOUCHING], 5);
    CU_ASSERT_EQUAL(dents->once[DENT_NEAR], 0);
    CU_ASSERT_EQUAL(dents->whole[DENT_STACKED], 2 * 6 + 3);
    CU_ASSERT_EQUAL(dents->whole[DENT_DOUBLED], 6);
    CU_ASSERT_EQUAL(dents->whole[DENT_TOUCHING], 4 * 6 + 3);
    /* what lies on itself is joined once */
    CU_ASSERT_EQUAL(joined_at(dents, 0, 2), dents_joined_above(0, false));
    CU_ASSERT_EQUAL(joined_at(dents, 0, 5), dents_joined_above(1, true));
    CU_ASSERT_EQUAL(joined_at(dents, 1, 0), dents_joined_above(-1, true));
    CU_ASSERT_EQUAL(joined_at(dents, 1, 2), DENTS_JOINED_HERE | dents_joined_above(1, false));
    CU_ASSERT_EQUAL(joined_at(dents, 2, 3), dents_joined_above(-1, false));
    CU_ASSERT_EQUAL(joined_at(dents, 2, 5), dents_joined_above(0, false));
    CU_ASSERT_EQUAL(joined_in_row(dents, 0), 2);
    CU_ASSERT_EQUAL(joined_in_row(dents, 1), 3);
    CU_ASSERT_EQUAL(joined_in_row(dents, 2), 2);
    arena_destroy(work.arena);
}

/* Worked once upwards the top row meets nothing. By hand: one stack less counted twice, one beside.
 */
static void once_upwards(void)
{
    struct work work = fixture_plan_work();
    const struct plan_dents *dents = dents_of(&work, six(&work, 1, 2));

    CU_ASSERT_EQUAL(dents->once[DENT_STACKED], 2);
    CU_ASSERT_EQUAL(dents->once[DENT_TOUCHING], 4);
    CU_ASSERT_EQUAL(dents->whole[DENT_STACKED], 6);
    CU_ASSERT_EQUAL(dents->whole[DENT_TOUCHING], 12);
    CU_ASSERT_EQUAL(joined_in_row(dents, 2), 0);
    arena_destroy(work.arena);
}

/* By hand: 3 over to 1 in rows 1 and 2; 4 over to 6 from row 3 to the next time upwards. */
static void nearer_than_three(void)
{
    struct work work = fixture_plan_work();
    const struct plan_dents *dents = dents_of(&work, six(&work, 2, 3));

    CU_ASSERT_EQUAL(dents->once[DENT_NEAR], 2);
    CU_ASSERT_EQUAL(dents->whole[DENT_NEAR], 6 + 3);
    CU_ASSERT_EQUAL(dents->once[DENT_TOUCHING], 5);
    arena_destroy(work.arena);
}

static void columns_and_rows(void)
{
    struct work work = fixture_plan_work();
    const struct plan_dents *dents = dents_of(&work, six(&work, 2, 2));
    static const int64_t in_column[6] = {1, 0, 3, 1, 0, 2}, in_row[3] = {6, 9, 6};

    for (int column = 0; column < 6; column++)
        CU_ASSERT_EQUAL(dents->in_column[column], in_column[column]);
    for (int row = 0; row < 3; row++)
        CU_ASSERT_EQUAL(dents->in_row[row], in_row[row]);
    CU_ASSERT_EQUAL(dents->most_in_column, 3);
    CU_ASSERT_EQUAL(dents->ridge_from, 3); /* twice the mean of 7/6 is 2 1/3: the next whole one */
    arena_destroy(work.arena);
}

/* By hand, a stitch and the four beside it: behind row 3, column 3 lie 2 below, 1 above, 1 beside.
 */
static void crowding_by_hand(void)
{
    struct work work = fixture_plan_work();
    const struct plan_dents *dents = dents_of(&work, six(&work, 2, 2));

    CU_ASSERT_EQUAL(dents->most, 4);
    CU_ASSERT_EQUAL(dents->row, 2);
    CU_ASSERT_EQUAL(dents->column, 2);
    CU_ASSERT_TRUE(dents->notable);
    CU_ASSERT_EQUAL(dents->crowd[2 * 6 + 2], 4);
    CU_ASSERT_EQUAL(dents->crowd[1 * 6 + 2], 3);
    CU_ASSERT_EQUAL(dents->crowd[1 * 6 + 5], 3); /* column 1 over the join, 6 below, 6 above */
    CU_ASSERT_EQUAL(dents->crowd[0 * 6 + 0], 2);
    dents = dents_of(&work, six(&work, 1, 2));
    CU_ASSERT_EQUAL(dents->most, 3); /* in three places: the lowest that is itself caught behind */
    CU_ASSERT_EQUAL(dents->row, 0);
    CU_ASSERT_EQUAL(dents->column, 2);
    CU_ASSERT_FALSE(dents->notable);
    arena_destroy(work.arena);
}

/* By hand at 8 by 9 1/2, half widths 4, 3, 3, 3, 2: 9 + 2 x (7 + 7 + 7 + 5). */
static void stitches_of_a_circle(void)
{
    struct plan_gauge small = {.per_in = 2, .rows_per_in = 2};
    struct plan_gauge usual = {.per_in = 8, .rows_per_in = 9.5};

    CU_ASSERT_EQUAL(dents_circle_sts(&small, 0.5), 5);
    CU_ASSERT_EQUAL(dents_circle_sts(&usual, 0.5), 61);
}

/* Right side stitch, twice four, left side stitch. Row 1: column 2 of each repeat. Row 2: the side
 * stitch, and the fourth of the row, only in the first repeat. */
static void flat_with_edges(void)
{
    static const char *const rows[] = {"x..x", "x..x", NULL}, *const side[] = {".", ".", NULL};
    static const struct fixture_catch inner[] = {{1, 2, FIXTURE_SLATE}};
    static const struct fixture_catch outer[] = {{2, 1, FIXTURE_SLATE}, {2, 4, FIXTURE_SLATE}};
    struct work work = fixture_plan_work();
    struct plan *plan = fixture_plan(&work, rows, 2, false);
    struct plan_band *band = plan->piece.bands;
    struct draw_style style = {.cell_mm = 4.5, .show = DRAW_DENTS};
    const struct plan_dents *dents;
    const struct sheet *sheet;
    int lines;

    band->left = band->right = band->left_knitted = band->right_knitted = fixture_grid(&work, side);
    band->side_sts = 2;
    band->catches = fixture_catches(&work, inner, 1);
    band->outer = fixture_catches(&work, outer, 2);
    band->dents.within_in = 0.5;
    plan->stagger_cols = 2;
    dents = dents_of(&work, plan);
    CU_ASSERT_EQUAL(dents->ncols, 6);
    CU_ASSERT_EQUAL(joined_at(dents, 0, 2), dents_joined_above(1, false));
    CU_ASSERT_EQUAL(joined_in_row(dents, 0), 1);
    CU_ASSERT_EQUAL(joined_in_row(dents, 1), 0);
    CU_ASSERT_EQUAL(dents->once[DENT_TOUCHING], 1);
    sheet = draw_band(&work, plan, band, &style);
    CU_ASSERT_EQUAL(paths_and_lines(sheet, "catches", &lines), 1);
    CU_ASSERT_EQUAL(lines, 2); /* of each repeat, and of the side stitch */
    CU_ASSERT_EQUAL(paths_and_lines(sheet, "catches near an edge", &lines), 1);
    CU_ASSERT_EQUAL(lines, 1);
    CU_ASSERT_EQUAL(dents->in_row[0], 2);
    CU_ASSERT_EQUAL(dents->in_row[1], 2);
    arena_destroy(work.arena);
}

/* --- whole projects ------------------------------------------------------------------------- */

/* The same count the long way: each stitch of each time upwards against each catch. */
static int64_t brute_most(struct work *work, const struct plan *plan, const struct plan_band *band,
                          const uint32_t *each)
{
    struct worked_catches worked = worked_catches_read(work->arena, band);
    const struct plan_gauge *gauge = &plan->piece.gauge;
    double reach = band->dents.within_in;
    int nrows = band->rows, round = worked.ring ? worked.ncols * band->repeats : 0;
    int ncols = band->dents.ncols;
    int64_t most = 0, wrong = 0;
    uint32_t *brute = arena_alloc(work->arena, (size_t)nrows * (size_t)ncols, sizeof *brute);

    for (int at = 0; at < nrows * band->upwards; at++)
        for (int column = 0; column < worked.ncols; column++) {
            uint32_t *cell = &brute[at % nrows * ncols + worked_drawn_column(&worked, column)];
            uint32_t count = 0;

            for (int up = 0; up < nrows * band->upwards; up++)
                for (int other = 0; other < worked.ncols; other++)
                    for (int copy = 0; copy < worked.times; copy++) {
                        int64_t there = worked_catches_at(&worked, up % nrows, other);
                        int off = other + copy * worked.ncols - column;
                        double x, y = (up - at) / gauge->rows_per_in;

                        if (there == 0)
                            break;
                        off = off < 0 ? -off : off;
                        off = round > 0 && round - off < off ? round - off : off;
                        x = off / gauge->per_in;
                        count += x * x + y * y <= reach * reach * (1 + 1e-9) ? (uint32_t)there : 0;
                    }
            *cell = count > *cell ? count : *cell;
        }
    for (int i = 0; i < nrows * ncols; i++) {
        wrong += brute[i] != each[i];
        most = brute[i] > most ? brute[i] : most;
    }
    CU_ASSERT_EQUAL(wrong, 0);
    return most;
}

static bool has_empty(const struct plan_band *band)
{
    return memchr(band->drawn.cell, GRID_NO_STITCH, (size_t)band->rows * (size_t)band->drawn.ncols);
}

static void check_project(const char *path, bool brute, int64_t *seen)
{
    struct work work = fixture_plan_work();
    const struct plan *plan = NULL;

    CU_ASSERT_EQUAL_FATAL(run_plan(&work, path, &plan), RUN_DONE);
    for (int b = 0; b < plan->piece.nbands; b++) {
        const struct plan_band *band = &plan->piece.bands[b];
        const struct catch_map *map = band->outer ? band->outer : band->catches;
        const struct plan_dents *dents = &band->dents;
        int64_t in_rows = 0;

        CU_ASSERT_EQUAL(dents->once[DENT_STACKED], map->stacked);
        CU_ASSERT_EQUAL(dents->once[DENT_DOUBLED], map->doubled);
        CU_ASSERT_EQUAL(dents->once[DENT_TOUCHING], map->touching);
        if (band->busiest_row >= 0)
            CU_ASSERT_EQUAL(dents->in_row[band->busiest_row], band->busiest_catches);
        for (int row = 0; row < dents->nrows; row++) {
            in_rows += dents->in_row[row];
            CU_ASSERT_TRUE(dents->in_row[row] <= band->busiest_catches);
        }
        CU_ASSERT_EQUAL(in_rows * band->upwards, band->catches_piece);
        if (brute && !has_empty(band))
            CU_ASSERT_EQUAL(brute_most(&work, plan, band, dents->crowd), band->dents.most);
        seen[0] += map->stacked;
        seen[1] += map->doubled;
        seen[2] += map->touching;
    }
    arena_destroy(work.arena);
}

static void totals_of_the_plan(void)
{
    int64_t seen[3] = {0, 0, 0};

    check_project("examples/barley-socks/barley-socks.ini", true, seen);
    check_project("examples/moth-cushion/moth-cushion.ini", true, seen);
    check_project("examples/pinewood-yoke/pinewood-yoke.ini", true, seen);
    check_project("examples/skep-mittens/skep-mittens.ini", true, seen);
    check_project("examples/tile-blanket/tile-blanket.ini", false, seen);
    check_project("examples/toadstool-hat/toadstool-hat.ini", true, seen);
    check_project("tests/projects/crowded-round.ini", true, seen);
    check_project("tests/projects/crowded-flat.ini", true, seen);
    for (int kind = 0; kind < 3; kind++) /* of every kind there was something to count */
        CU_ASSERT_TRUE(seen[kind] > 0);
}

/* --- drawn ---------------------------------------------------------------------------------- */

/* From the counts by hand above: a pair over the join or the top is drawn as two halves. */
static void every_pair_is_drawn(void)
{
    struct work work = fixture_plan_work();
    struct plan *plan = six(&work, 2, 2);
    struct draw_style style = {.cell_mm = 4.5, .show = DRAW_DENTS};
    const struct sheet *sheet;
    int lines;

    dents_of(&work, plan);
    sheet = draw_band(&work, plan, plan->piece.bands, &style);
    CU_ASSERT_EQUAL(paths_and_lines(sheet, "catches", &lines), 1);
    CU_ASSERT_EQUAL(lines, 6);
    CU_ASSERT_EQUAL(paths_and_lines(sheet, "one on the other", &lines), 1);
    CU_ASSERT_EQUAL(lines, 1 + 2);
    CU_ASSERT_EQUAL(paths_and_lines(sheet, "two behind one stitch", &lines), 1);
    CU_ASSERT_EQUAL(lines, 1);
    CU_ASSERT_EQUAL(paths_and_lines(sheet, "one column apart", &lines), 1);
    CU_ASSERT_EQUAL(lines, 2 + 2 + 1 + 2);
    CU_ASSERT_EQUAL(paths_and_lines(sheet, "columns that may show as a ridge", &lines), 1);
    CU_ASSERT_EQUAL(lines, 1);
    CU_ASSERT_TRUE(sheet_is_sound(sheet));
    arena_destroy(work.arena);
}

static int64_t cells_in(const struct sheet *sheet, const char *label)
{
    int64_t cells = 0;

    for (const struct sheet_item *item = sheet->first; item; item = item->next)
        for (size_t i = 0; item->kind == SHEET_CELLS && i < item->count; i++)
            cells += strcmp(item->label, label) == 0 ? item->run[i].cells : 0;
    return cells;
}

/* Up to 4, of which the plan calls 3 crowded: 1 and 2, 3, 4 share the three greys. */
static void greys_spread_to_the_most_crowded(void)
{
    struct work work = fixture_plan_work();
    struct plan *plan = six(&work, 2, 2);
    const struct plan_dents *dents;
    struct draw_style style = {.cell_mm = 4.5, .show = DRAW_DENTS};
    int64_t expected[3] = {0, 0, 0};
    const struct sheet *sheet;
    int lines;

    plan->piece.bands[0].dents = (struct plan_dents){
        .within_in = 0.5, .step = {1, 2, 3}, .ridge_ratio = 2, .ridge_least = 3};
    dents = dents_of(&work, plan);
    for (int i = 0; i < 18; i++)
        if (dents->crowd[i] > 0)
            expected[dents->crowd[i] <= 2 ? 0 : dents->crowd[i] - 2]++;
    sheet = draw_band(&work, plan, plan->piece.bands, &style);
    CU_ASSERT_TRUE(expected[0] > 0 && expected[1] > 0 && expected[2] > 0);
    CU_ASSERT_EQUAL(cells_in(sheet, "somewhat crowded"), expected[0]);
    CU_ASSERT_EQUAL(cells_in(sheet, "more crowded"), expected[1]);
    CU_ASSERT_EQUAL(cells_in(sheet, "most crowded"), expected[2]);
    CU_ASSERT_EQUAL(paths_and_lines(sheet, "closest together", &lines), 1 + 1); /* legend */
    arena_destroy(work.arena);
}

static void nothing_caught_is_said(void)
{
    struct work work = fixture_plan_work();
    struct plan *plan = fixture_plan(&work, six_rows, 3, true);
    struct draw_style style = {.cell_mm = 4.5, .show = DRAW_DENTS};
    const struct sheet *sheet;
    bool said = false;
    int lines;

    plan->piece.bands[0].dents.within_in = 0.5;
    dents_of(&work, plan);
    sheet = draw_band(&work, plan, plan->piece.bands, &style);
    for (const struct sheet_item *item = sheet->first; item; item = item->next)
        said |= item->kind == SHEET_WORDS && strstr(item->words, "no catches") != NULL;
    CU_ASSERT_TRUE(said);
    CU_ASSERT_EQUAL(paths_and_lines(sheet, "catches", &lines), 0);
    arena_destroy(work.arena);
}

CU_TestInfo tests_dents[] = {
    {"pairs by hand, over the join and the top", pairs_by_hand},
    {"worked once upwards", once_upwards},
    {"nearer than three columns", nearer_than_three},
    {"catches of columns and rows", columns_and_rows},
    {"crowding by hand", crowding_by_hand},
    {"stitches of a circle", stitches_of_a_circle},
    {"flat, with edges", flat_with_edges},
    {"totals are those of the plan, crowding that of every distance", totals_of_the_plan},
    {"every pair is drawn", every_pair_is_drawn},
    {"greys spread to the most crowded", greys_spread_to_the_most_crowded},
    {"nothing caught is said", nothing_caught_is_said},
    CU_TEST_INFO_NULL,
};
