/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The redraw as it is planned: stitches in another colour than covers most of them, by laying both charts on a
 * grid fine enough for both; what is refused; sizes by hand (common practice, no printed source).
 */
#include <CUnit/CUnit.h>
#include <stdlib.h>
#include <string.h>

#include "run.h"
#include "base/arena.h"
#include "fixture_redraw.h"
#include "plan/redraw/redraw.h"
#include "render/draw/redraw.h"

static const char BARLEY[] = "examples/barley-socks/barley-socks.ini";

static const struct plan_redraw *redraw(struct case_at *at, struct redraw_asked asked)
{
    return plan_redraw_make(&at->work, at->checked.plan, at->checked.read, &asked, &at->why);
}

static struct redraw_asked gauge(int stitches, int rows, int over_in)
{
    return (struct redraw_asked){.has_gauge = true,
                                 .per_in = rational_make(stitches, over_in),
                                 .rows_per_in = rational_make(rows, over_in)};
}

/* --- stitches in another colour ----------------------------------------------------------------- */

/* A new stitch is cut into 2 * old counts of specks each way, an old one into 2 * new counts. */
static bool is_changed(const struct plan_redraw *redraw, int row, int column)
{
    const struct grid *old = &redraw->old->drawn, *chart = &redraw->answer.chart;
    int64_t wide = 2 * (int64_t)old->ncols, high = 2 * (int64_t)old->nrows;
    int64_t all_x = wide * chart->ncols, all_y = high * chart->nrows;
    int64_t specks[GRID_YARNS_MAX] = {0};
    int own = chart->cell[row * chart->ncols + column];

    for (int64_t y = row * high; y < (row + 1) * high; y++)
        for (int64_t x = column * wide; x < (column + 1) * wide; x++) {
            int64_t old_x = ((x - redraw->answer.columns.phase) % all_x + all_x) % all_x / (2 * chart->ncols);
            int64_t old_y = ((y - redraw->answer.rows.phase) % all_y + all_y) % all_y / (2 * chart->nrows);

            specks[old->cell[old_y * old->ncols + old_x]]++;
        }
    for (int y = 0; y < GRID_YARNS_MAX; y++)
        if (specks[y] > specks[own])
            return true;
    return false;
}

static void changed_by_specks(void)
{
    static const struct redraw_asked all[] = {
        {.has_gauge = true, .per_in = {26, 4}, .rows_per_in = {34, 4}},
        {.has_gauge = true, .per_in = {11, 1}, .rows_per_in = {12, 1}},
        {.has_gauge = true, .per_in = {5, 1}, .rows_per_in = {7, 1}},
        {.ncols = 13},
        {.ncols = 9, .nrows = 17},
    };
    struct case_at at = open_case(BARLEY);
    int seen = 0;

    for (size_t i = 0; i < sizeof all / sizeof *all; i++) {
        const struct plan_redraw *redrawn = redraw(&at, all[i]);
        int count = 0;

        CU_ASSERT_PTR_NOT_NULL_FATAL(redrawn);
        for (int cell = 0; cell < redrawn->columns.now * redrawn->rows.now; cell++) {
            bool here = is_changed(redrawn, cell / redrawn->columns.now, cell % redrawn->columns.now);

            CU_ASSERT_EQUAL(redrawn->answer.changed[cell], here);
            count += here;
        }
        CU_ASSERT_EQUAL(redrawn->answer.nchanged, count);
        seen += count;
    }
    CU_ASSERT_TRUE(seen > 0);
    arena_destroy(at.work.arena);
}

/* --- sizes -------------------------------------------------------------------------------------- */

/* By hand, 14 x 26 at 32.25 and 38 1/6 to 4 in, for 26 and 34: 14 x 26 / 32.25 = 11.29, 26 x 34 / 38 1/6 = 23.16;
 * 6 x 12 = 72 at 6.5 is 11.08 in. Nearest 23.16 that may be: 23, 24 (+3.6 %), 22 (-5.0 %), 25 (+7.9 %). */
static void barley_by_hand(void)
{
    struct case_at at = open_case(BARLEY);
    const struct plan_redraw *redrawn = redraw(&at, gauge(26, 34, 4));
    static const int rows[] = {23, 24, 22, 25};

    CU_ASSERT_PTR_NOT_NULL_FATAL(redrawn);
    CU_ASSERT_DOUBLE_EQUAL(redrawn->columns.exact, 11.29, 0.005);
    CU_ASSERT_DOUBLE_EQUAL(redrawn->rows.exact, 23.16, 0.005);
    CU_ASSERT_EQUAL(redrawn->columns.now, 12);
    CU_ASSERT_EQUAL(redrawn->ways.of[0].repeats, 6);
    CU_ASSERT_EQUAL(redrawn->ways.of[0].stitches, 72);
    CU_ASSERT_DOUBLE_EQUAL(redrawn->ways.of[0].finished_in, 11.08, 0.005);
    CU_ASSERT_EQUAL_FATAL(redrawn->heights.n, 4);
    for (int i = 0; i < 4; i++)
        CU_ASSERT_EQUAL(redrawn->heights.of[i].count, rows[i]);
    CU_ASSERT_DOUBLE_EQUAL(redrawn->heights.of[1].off_part, 0.036, 0.0005);
    CU_ASSERT_DOUBLE_EQUAL(redrawn->heights.of[2].off_part, -0.050, 0.0005);
    CU_ASSERT_TRUE(redrawn->planned);
    CU_ASSERT_EQUAL(redrawn->band->repeats, 6);
    CU_ASSERT_EQUAL(redrawn->band->leave_sts, 6); /* 1 in at 6.5 */
    arena_destroy(at.work.arena);
}

/* Flat: the selvedge stands at the measure's edges as the plan has it. By hand: 108 stitches wanted at the gauge
 * as it is, so the way with the old repeat is the plan itself. */
static void flat_as_planned(void)
{
    struct case_at at = open_case("examples/moth-cushion/moth-cushion.ini");
    const struct plan_band *band = &at.checked.plan->piece.bands[0];
    const struct plan_redraw *same = redraw(&at, (struct redraw_asked){.ncols = 24});

    CU_ASSERT_PTR_NOT_NULL_FATAL(same);
    CU_ASSERT_EQUAL(same->ways.of[0].repeats, band->repeats);
    CU_ASSERT_EQUAL(same->ways.of[0].stitches, band->stitches_on_needle);
    CU_ASSERT_DOUBLE_EQUAL(same->ways.of[0].finished_in, band->finished_in, 1e-9);
    /* the same chart, the same gauge: all that is said of floats is what the plan has */
    CU_ASSERT_EQUAL(memcmp(same->answer.chart.cell, band->drawn.cell, 24 * 24), 0);
    CU_ASSERT_TRUE(same->planned);
    CU_ASSERT_EQUAL(same->now.longest_sts, same->was.longest_sts);
    CU_ASSERT_EQUAL(same->now.over_limit, same->was.over_limit);
    CU_ASSERT_EQUAL(same->now.catches_piece, same->was.catches_piece);
    CU_ASSERT_EQUAL(same->answer.nchanged, 0);
    CU_ASSERT_EQUAL(same->band->left.ncols, band->left.ncols);
    CU_ASSERT_EQUAL(memcmp(same->band->left.cell, band->left.cell, (size_t)band->left.ncols * 24), 0);
    arena_destroy(at.work.arena);
}

/* --- refused ------------------------------------------------------------------------------------ */

static void almost_nothing(void)
{
    static const struct redraw_asked all[] = {
        {.ncols = 1}, {.ncols = 1, .nrows = 1}, {.ncols = 4, .nrows = 3}, {.ncols = 5}};
    struct case_at at = open_case(BARLEY);
    const char *give;
    struct redraw_asked least = {0};

    for (size_t i = 0; i < sizeof all / sizeof *all; i++) {
        CU_ASSERT_PTR_NULL(redraw(&at, all[i]));
        CU_ASSERT_PTR_NOT_NULL_FATAL(at.why);
        CU_ASSERT_PTR_NOT_NULL(strstr(at.why, "cannot show this motif"));
    }
    /* what it says to give is taken */
    CU_ASSERT_PTR_NULL(redraw(&at, all[1]));
    give = strstr(at.why, "--columns ");
    CU_ASSERT_PTR_NOT_NULL_FATAL(give);
    least.ncols = (int)strtol(give + strlen("--columns "), NULL, 10);
    give = strstr(at.why, "--rows ");
    CU_ASSERT_PTR_NOT_NULL_FATAL(give);
    least.nrows = (int)strtol(give + strlen("--rows "), NULL, 10);
    CU_ASSERT_PTR_NOT_NULL(redraw(&at, least));
    arena_destroy(at.work.arena);
}

static void wider_than_the_piece(void)
{
    struct case_at inches = open_case(BARLEY), cm = open_case("examples/tile-blanket/tile-blanket.ini");

    CU_ASSERT_PTR_NULL(redraw(&inches, (struct redraw_asked){.ncols = 90}));
    CU_ASSERT_PTR_NOT_NULL(strstr(inches.why, "the piece is 10 1/4 in (26.1 cm), 82 stitches: give at most --columns 82"));
    CU_ASSERT_PTR_NULL(redraw(&cm, (struct redraw_asked){.ncols = 398}));
    CU_ASSERT_PTR_NOT_NULL(strstr(cm.why, "the piece is 114 cm (44 7/8 in), 201 stitches: give at most --columns 201"));
    CU_ASSERT_PTR_NULL(redraw(&inches, (struct redraw_asked){.ncols = 12, .has_around = true,
                                                             .around_in = rational_make(1, 8)}));
    CU_ASSERT_PTR_NOT_NULL(strstr(inches.why, "no room for a motif"));
    /* 14 stitches at 8 1/16 are 1.74 in; 2 in have room for one, 1 in for half of one */
    CU_ASSERT_PTR_NULL(redraw(&inches, (struct redraw_asked){.nrows = 26, .has_around = true, .around_in = {1, 1}}));
    CU_ASSERT_PTR_NOT_NULL(strstr(inches.why, "a repeat of 14 stitches is"));
    CU_ASSERT_PTR_NOT_NULL(strstr(inches.why, "8 stitches: give at most --columns 8"));
    CU_ASSERT_PTR_NOT_NULL(redraw(&inches, (struct redraw_asked){.nrows = 26, .has_around = true, .around_in = {2, 1}}));
    arena_destroy(inches.work.arena);
    arena_destroy(cm.work.arena);
}

/* 13 repeats of 30: the nearest count to 399 that keeps them is 403, more than is drawn; 390 then. */
static void no_more_than_is_drawn(void)
{
    enum { NCOLS = 390, NROWS = 3, PERIOD = 30 };
    struct case_at at = open_case(BARLEY);
    struct plan plan = *at.checked.plan;
    struct plan_band band = plan.piece.bands[0];
    uint8_t *cell = arena_alloc(at.work.arena, (size_t)NCOLS * NROWS, 1);
    struct redraw_asked asked = gauge(32, 38, 4);
    const struct plan_redraw *redraw;

    for (int i = 0; i < NCOLS * NROWS; i++)
        cell[i] = i % NCOLS % PERIOD == 3 * (i / NCOLS) ? 1 : 0;
    band.drawn = band.knitted = (struct grid){NROWS, NCOLS, cell};
    band.repeat_sts = NCOLS;
    band.rows = NROWS;
    plan.piece.bands = &band;
    asked.per_in = rational_div(rational_mul(plan.piece.gauge.gauge.stitches.per_in, rational_whole(399)),
                                rational_whole(NCOLS));
    asked.has_around = true;
    asked.around_in = rational_whole(60);
    redraw = plan_redraw_make(&at.work, &plan, NULL, &asked, &at.why);
    CU_ASSERT_PTR_NOT_NULL_FATAL(redraw);
    CU_ASSERT_DOUBLE_EQUAL(redraw->columns.exact, 399, 1e-9);
    CU_ASSERT_EQUAL(redraw->answer.chart.ncols, NCOLS);
    for (int i = 0; i < redraw->ways.n; i++)
        CU_ASSERT_TRUE(redraw->ways.of[i].count <= RESIZE_SIDE_MAX);
    arena_destroy(at.work.arena);
}

CU_TestInfo tests_redraw[] = {
    {"no more than is drawn", no_more_than_is_drawn},
    {"stitches in another colour, speck by speck", changed_by_specks},
    {"the barley for 26 by 34, by hand", barley_by_hand},
    {"flat work as it is planned", flat_as_planned},
    {"almost nothing is refused", almost_nothing},
    {"a repeat wider than the piece", wider_than_the_piece},
    CU_TEST_INFO_NULL,
};
