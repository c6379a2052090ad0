/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * How far a yarn crosses at the edges of flat work, counted by hand.
 */
#include <CUnit/Basic.h>

#include "run.h"
#include "base/arena.h"
#include "fixture_plan.h"

static const struct plan_colour *light_of(struct work *work, const char *project)
{
    const struct plan *plan = NULL;

    if (run_plan(work, project, &plan) != RUN_DONE)
        return NULL;
    return &plan->piece.bands[0].colours[1];
}

/* Two repeats of 30; the leftmost light stitch stands 14 from the left edge in both rows. */
static void from_row_to_row(void)
{
    struct work work = fixture_plan_work();
    const struct plan_colour *light = light_of(&work, "tests/cautions/turn-long.ini");

    CU_ASSERT_PTR_NOT_NULL_FATAL(light);
    CU_ASSERT_EQUAL(light->turn_longest_sts, 28);
    CU_ASSERT_EQUAL(light->turn_row, 0);
    arena_destroy(work.arena);
}

/* Three rows of ten, light at the left edge, 5 from it, at the left edge. Rows 1, 3 and 5 of the piece
 * end at the left. After row 1: 0 + 5; 2: 4 + 9; 3: 0 + 0; 4: 9 + 4; 5: 5 + 0; and if there is a
 * row 7, after row 6: 9 + 9. */
static void odd_rows_turn_at_the_other_edge(void)
{
    struct work work = fixture_plan_work();
    const struct plan_colour *light = light_of(&work, "tests/projects/turn-2.ini");

    CU_ASSERT_PTR_NOT_NULL_FATAL(light);
    CU_ASSERT_EQUAL(light->turn_longest_sts, 13);
    CU_ASSERT_EQUAL(light->turn_row, 1);
    light = light_of(&work, "tests/projects/turn-3.ini");
    CU_ASSERT_PTR_NOT_NULL_FATAL(light);
    CU_ASSERT_EQUAL(light->turn_longest_sts, 18);
    CU_ASSERT_EQUAL(light->turn_row, 2);
    arena_destroy(work.arena);
}

/* With both yarns at the edges nothing crosses there. */
static void not_with_anchored_edges(void)
{
    struct work work = fixture_plan_work();
    const struct plan_colour *light = light_of(&work, "examples/moth-cushion/moth-cushion.ini");

    CU_ASSERT_PTR_NOT_NULL_FATAL(light);
    CU_ASSERT_EQUAL(light->turn_longest_sts, 0);
    arena_destroy(work.arena);
}

CU_TestInfo tests_turns[] = {
    {"from the last stitch of a row to the first of the next", from_row_to_row},
    {"an odd number of rows turns at the other edge the next time", odd_rows_turn_at_the_other_edge},
    {"nothing where every yarn goes to the edge", not_with_anchored_edges},
    CU_TEST_INFO_NULL,
};
