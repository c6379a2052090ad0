/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Where plain meets stranded. Worked by hand; the 72 stitches are a working example of
 * practitioners, without a printed source.
 */
#include <CUnit/Basic.h>
#include <math.h>
#include <string.h>

#include "run.h"
#include "base/arena.h"
#include "fixture_plan.h"
#include "fixture_shaping.h"
#include "model/gauge/sizing.h"

/* 72 plain at 7.5 are 9.60 in, stranded at 8 they are 9.00 in: 0.60 in. 9.6 x 8 = 76.8. */
static void by_hand(void)
{
    CU_ASSERT_DOUBLE_EQUAL(sizing_step_in(72, 7.5, 72, 8.0), 0.60, 1e-12);
    CU_ASSERT_DOUBLE_EQUAL(sizing_step_in(72, 7.5, 84, 8.0), -0.90, 1e-12);
    CU_ASSERT_DOUBLE_EQUAL(sizing_even_sts(72, 7.5, 8.0), 76.8, 1e-12);
}

static const struct plan_border *border_of(struct work *work, const char *project)
{
    const struct plan *plan = NULL;

    if (run_plan(work, project, &plan) != RUN_DONE || plan->piece.nborders != 1)
        return NULL;
    return plan->piece.borders;
}

/* 72 in both: 6.3 %; gauge 7.5 would do, 6.25 % off; of 76.8 the nearest repeats are 72 again. */
static void same_count(void)
{
    struct work work = fixture_plan_work();
    const struct plan_border *border = border_of(&work, "tests/projects/heel-small.ini");

    CU_ASSERT_PTR_NOT_NULL_FATAL(border);
    CU_ASSERT_DOUBLE_EQUAL(border->step_in, 0.60, 1e-9);
    CU_ASSERT_DOUBLE_EQUAL(border->step_part, 0.063, 0.0006);
    CU_ASSERT_FALSE(border->slight || border->shaped || border->asked || border->plain_below);
    CU_ASSERT_DOUBLE_EQUAL(border->needle_per_in, 7.5, 1e-9);
    CU_ASSERT_DOUBLE_EQUAL(border->needle_part, -0.0625, 1e-9);
    CU_ASSERT_FALSE(border->needle_near);
    CU_ASSERT_DOUBLE_EQUAL(border->even_sts, 76.8, 1e-9);
    CU_ASSERT_EQUAL(border->fit_sts, 0);
    CU_ASSERT_EQUAL(border->plain_fit_sts, 68); /* 9.00 in x 7.5 = 67.5: the larger half */
    CU_ASSERT_PTR_NOT_NULL(border->plain_fit_line);
    arena_destroy(work.arena);
}

/* 84 in the band, 72 in the leg: 10.50 against 9.60; 72 in the band would be nearer, with no shaping. */
static void shaped(void)
{
    struct work work = fixture_plan_work();
    const struct plan_border *border = border_of(&work, "tests/projects/heel.ini");

    CU_ASSERT_PTR_NOT_NULL_FATAL(border);
    CU_ASSERT_TRUE(border->shaped);
    CU_ASSERT_DOUBLE_EQUAL(border->step_in, -0.90, 1e-9);
    CU_ASSERT_DOUBLE_EQUAL(border->drawn_in, 0.60, 1e-9);
    CU_ASSERT_EQUAL(border->fit_sts, 72);
    CU_ASSERT_TRUE(border->fit_stopped); /* 80.8 would pass, by hand in test_stretch */
    CU_ASSERT_EQUAL(border->plain_fit_sts, 79); /* 10.50 in x 7.5 = 78.75 */
    CU_ASSERT_EQUAL(border->fit_repeats, 6);
    CU_ASSERT_DOUBLE_EQUAL(border->fit_step_in, 0.60, 1e-9);
    CU_ASSERT_PTR_NULL(border->fit_line);
    arena_destroy(work.arena);
}

/* Repeats of 4, plain below the band, 72 in both: 9.60 in plain; even 76.8, so 76, 9.50 in;
 * 72 + 4 = 76. */
static void increased_into_the_band(void)
{
    const char *line;
    int used = 0, left = 0;
    struct work work = fixture_plan_work();
    const struct plan_border *border = border_of(&work, "tests/projects/waist.ini");

    CU_ASSERT_PTR_NOT_NULL_FATAL(border);
    CU_ASSERT_TRUE(border->plain_below);
    CU_ASSERT_EQUAL(border->plain_sts, 72);
    CU_ASSERT_EQUAL(border->band_sts, 72);
    CU_ASSERT_EQUAL(border->fit_sts, 76);
    CU_ASSERT_FALSE(border->fit_stopped); /* nothing to pass */
    CU_ASSERT_DOUBLE_EQUAL(border->fit_step_in, 0.10, 1e-9);
    CU_ASSERT_PTR_NOT_NULL_FATAL(border->fit_line);
    line = arena_strndup(work.arena, border->fit_line,
                         strlen(border->fit_line) - strlen(" (72 + 4 = 76)"));
    CU_ASSERT_STRING_EQUAL(border->fit_line + strlen(line), " (72 + 4 = 76)");
    CU_ASSERT_TRUE(shaping_read_back(line, &used, &left));
    CU_ASSERT_TRUE(used == 72 && left == 76);
    arena_destroy(work.arena);
}

CU_TestInfo tests_border[] = {
    {"steps worked by hand", by_hand},
    {"the same count in both", same_count},
    {"another count in the band", shaped},
    {"increased into the band", increased_into_the_band},
    CU_TEST_INFO_NULL,
};
