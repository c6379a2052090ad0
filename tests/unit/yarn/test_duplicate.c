/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Duplicate stitch: spots counted by hand, yarn by the worked examples, and what stranding takes
 * instead.
 */
#include <CUnit/CUnit.h>
#include <math.h>
#include <string.h>

#include "base/arena.h"
#include "fixture_plan.h"
#include "model/catches/floats.h"
#include "model/yarn/duplicate.h"
#include "model/yarn/yarn.h"

extern CU_TestInfo tests_duplicate[];

static const double inch_mm = 25.4;

static double sewn_in(struct work *work, const char *const *rows, int reach)
{
    struct grid grid = fixture_grid(work, rows);
    struct duplicate_tally tally;

    duplicate_tally_grid(work, &grid, FIXTURE_CORAL, reach, &tally);
    return yarn_duplicate_mm(tally.stitches, 0.48 * inch_mm, 1.1,
                             (double)tally.across_sts * inch_mm / 8 + (double)tally.up_rows * inch_mm / 9.5,
                             tally.spots, 12 * inch_mm) /
           inch_mm;
}

/* Worked by hand at 0.48 in in a stitch, a tenth more, 12 in of tails: one lone stitch 0.53 + 12 =
 * 12.5 in, 96 per cent of it tail; twelve in a cluster 6.3 + 12 = 18.3 in. */
static void spots_in_yarn(void)
{
    static const char *const lone[] = {".....", "..o..", ".....", NULL};
    static const char *const cluster[] = {".oooo.", ".oooo.", ".oooo.", NULL};
    struct work work = fixture_plan_work();

    CU_ASSERT_DOUBLE_EQUAL(sewn_in(&work, lone, 3), 12.5, 0.05);
    CU_ASSERT_DOUBLE_EQUAL(12 / sewn_in(&work, lone, 3), 0.96, 0.005);
    /* that leaves out the way back to the right: twice two stitches passed, 1/8 in each */
    CU_ASSERT_DOUBLE_EQUAL(sewn_in(&work, cluster, 3) - 4.0 / 8, 18.3, 0.05);
    arena_destroy(work.arena);
}

/* By hand. Three columns apart is within reach (two stitches passed), four is not; at the end of a
 * row the strand goes back to the first of the next. */
static void spots_counted(void)
{
    static const char *const near[] = {"o..o....", NULL};
    static const char *const far[] = {"o...o...", NULL};
    static const char *const block[] = {"ooo", "ooo", NULL};
    struct work work = fixture_plan_work();
    struct grid grid = fixture_grid(&work, near);
    struct duplicate_tally tally;

    duplicate_tally_grid(&work, &grid, FIXTURE_CORAL, 3, &tally);
    CU_ASSERT_EQUAL(tally.spots, 1);
    CU_ASSERT_EQUAL(tally.across_sts, 2);
    grid = fixture_grid(&work, far);
    duplicate_tally_grid(&work, &grid, FIXTURE_CORAL, 3, &tally);
    CU_ASSERT_EQUAL(tally.spots, 2);
    CU_ASSERT_EQUAL(tally.across_sts, 0);
    grid = fixture_grid(&work, block);
    duplicate_tally_grid(&work, &grid, FIXTURE_CORAL, 3, &tally);
    CU_ASSERT_EQUAL(tally.stitches, 6);
    CU_ASSERT_EQUAL(tally.spots, 1);
    CU_ASSERT_EQUAL(tally.across_sts, 1); /* from the left end of row 1 to the right end of row 2 */
    CU_ASSERT_EQUAL(tally.up_rows, 0);
    arena_destroy(work.arena);
}

/* --- a choice ---------------------------------------------------------------------------- */

static int read_row(const char *marks, uint8_t *yarn_of)
{
    static const char known[] = ".xo";
    int n = (int)strlen(marks);

    for (int i = 0; i < n; i++) /* from the right */
        yarn_of[i] = (uint8_t)(strchr(known, marks[n - 1 - i]) - known);
    return n;
}

static bool is_choice(const char *marks, int yarn, double sparse)
{
    uint8_t yarn_of[64];

    return duplicate_is_choice(yarn_of, read_row(marks, yarn_of), yarn, sparse);
}

static void what_is_a_choice(void)
{
    uint8_t yarn_of[64];
    int n;

    CU_ASSERT_FALSE(is_choice("....xxxx....", FIXTURE_SLATE, 0.1)); /* a third of the row */
    CU_ASSERT_TRUE(is_choice("...........x", FIXTURE_SLATE, 0.1));
    CU_ASSERT_FALSE(is_choice("...........x", FIXTURE_CREAM, 0.1)); /* it has the most */
    CU_ASSERT_FALSE(is_choice("...........x", FIXTURE_CORAL, 0.1)); /* not there */
    CU_ASSERT_FALSE(is_choice("xxxx", FIXTURE_SLATE, 1.0));         /* the only one */
    CU_ASSERT_TRUE(is_choice("....xxxx.ooo", FIXTURE_CORAL, 0.1));  /* the third */
    CU_ASSERT_FALSE(is_choice("....xxxx.ooo", FIXTURE_SLATE, 0.1));
    CU_ASSERT_TRUE(is_choice("....xxx..ooo", FIXTURE_CORAL, 0.1));  /* of equal ones the later */
    CU_ASSERT_FALSE(is_choice("....xxx..ooo", FIXTURE_SLATE, 0.1));
    n = read_row("..xxxx.ooo", yarn_of);
    CU_ASSERT_EQUAL(duplicate_under(yarn_of, n, FIXTURE_CORAL), FIXTURE_SLATE);
    CU_ASSERT_EQUAL(duplicate_under(yarn_of, n, FIXTURE_SLATE), FIXTURE_CREAM); /* the first of equals */
    n = read_row("xxxx", yarn_of);
    CU_ASSERT_EQUAL(duplicate_under(yarn_of, n, FIXTURE_SLATE), -1);
}

/* By hand, one ring of twelve: cream 6 stitches, floats of 3, 1 and 2 behind the others'; slate 4,
 * floats of 7 and 1; coral 2, floats of 1 and 9. At three left loose: 7 takes 1, 9 takes 2. */
static void a_row_by_hand(void)
{
    uint8_t yarn_of[64];
    struct float_run runs[64 + 2 * GRID_YARNS_MAX];
    struct float_tally tally[GRID_YARNS_MAX] = {{0}};
    const struct float_tally *own = &tally[FIXTURE_CORAL];
    int n = read_row("..xxx.x..o.o", yarn_of);
    int nruns = floats_of_row(yarn_of, n, FLOATS_RING, runs), colours = 0;
    int64_t stitches = 0, float_stitches = 0, catches = 0;

    floats_tally_row(yarn_of, n, runs, nruns, 0, 3, tally, NULL, 0);
    for (int i = 0; i < GRID_YARNS_MAX; i++) {
        stitches += tally[i].stitches;
        float_stitches += tally[i].float_stitches;
        catches += tally[i].catches_fewest;
        colours += tally[i].stitches > 0;
    }
    CU_ASSERT_EQUAL(stitches, 12);
    CU_ASSERT_EQUAL(colours, 3);
    CU_ASSERT_EQUAL(own->stitches, 2);
    CU_ASSERT_EQUAL(own->float_stitches, 1 + 9);
    CU_ASSERT_EQUAL(own->catches_fewest, 2);
    CU_ASSERT_EQUAL(float_stitches, (1 + 9) + (1 + 7) + (3 + 1 + 1 + 1));
    CU_ASSERT_EQUAL(catches, 2 + 1);
}

/* By hand: 84 stitches in three colours count 126, 14 catches 21: 147 of 1200 an hour. Sewn: 23
 * stitches count 57.5, 5 spots 200. */
static void hours_by_hand(void)
{
    const struct duplicate_pace pace = {1200, 0.8, 1.5, 1.5, 2.5, 40};

    CU_ASSERT_DOUBLE_EQUAL(duplicate_knitting_hours(84, 14, 3, &pace), 147.0 / 1200, 1e-12);
    CU_ASSERT_DOUBLE_EQUAL(duplicate_knitting_hours(84, 14, 2, &pace), 105.0 / 1200, 1e-12);
    CU_ASSERT_DOUBLE_EQUAL(duplicate_knitting_hours(84, 0, 1, &pace), 67.2 / 1200, 1e-12);
    CU_ASSERT_DOUBLE_EQUAL(duplicate_sewing_hours(23, 5, &pace), 257.5 / 1200, 1e-12);
}

CU_TestInfo tests_duplicate[] = {
    {"a lone stitch and a cluster", spots_in_yarn},
    {"spots by hand", spots_counted},
    {"which rows are a choice", what_is_a_choice},
    {"a row by hand", a_row_by_hand},
    {"hours by hand", hours_by_hand},
    CU_TEST_INFO_NULL,
};
