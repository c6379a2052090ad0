/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <CUnit/CUnit.h>

#include "model/catches/carry.h"

/* Counted by hand; the rule itself is common practice, no source: a yarn is carried up behind
 * the start if it waits at most an inch, rounds x height x 1.2, and cut if it waits longer;
 * two tails a cut, and two for its first start and last end. */

#define INCH_MM 25.4

static void carries_up_to_the_limit(void)
{
    /* 9.5 rounds to the inch: 9 rounds are carried, 10 are not. */
    const double row_mm = INCH_MM / 9.5;
    struct carry_stretch piece[] = {
        {4, 3, row_mm, false},  {9, 1, row_mm, false}, {2, 2, row_mm, false},
        {10, 1, row_mm, false}, {1, 2, row_mm, false}, {30, 1, row_mm, false},
    };
    struct carry_tally tally;

    carry_tally_yarn(piece, 6, 1, INCH_MM, 1.2, &tally);
    CU_ASSERT_EQUAL(tally.waits, 1);
    CU_ASSERT_EQUAL(tally.carried_rows, 9);
    CU_ASSERT_DOUBLE_EQUAL(tally.carried_mm, 28.8758, 0.0001); /* 9 / 9.5 x 25.4 x 1.2 */
    CU_ASSERT_EQUAL(tally.longest_wait_rows, 9);
    CU_ASSERT_EQUAL(tally.cuts, 1);
    CU_ASSERT_EQUAL(tally.ends, 4);
    /* The ground waits two rounds, then one. */
    carry_tally_yarn(piece, 6, 0, INCH_MM, 1.2, &tally);
    CU_ASSERT_EQUAL(tally.waits, 2);
    CU_ASSERT_EQUAL(tally.carried_rows, 3);
    CU_ASSERT_EQUAL(tally.ends, 2);
}

static void carries_a_wait_of_exactly_the_limit(void)
{
    struct carry_tally tally;

    for (int per_inch = 1; per_inch <= 40; per_inch++) {
        struct carry_stretch piece[] = {
            {3, 1, INCH_MM / per_inch, false},
            {per_inch, 2, INCH_MM / per_inch, false},
            {5, 1, INCH_MM / per_inch, false},
        };

        carry_tally_yarn(piece, 3, 0, INCH_MM, 1.2, &tally);
        CU_ASSERT_EQUAL(tally.carried_rows, per_inch);
        piece[1].rows++;
        carry_tally_yarn(piece, 3, 0, INCH_MM, 1.2, &tally);
        CU_ASSERT_EQUAL(tally.cuts, 1);
    }
}

static void adds_waits_in_fabrics_of_two_heights(void)
{
    struct carry_stretch piece[] = {
        {6, 4, 2.7, false},
        {5, 1, 2.7, false},
        {3, 2, 3.4, false},
        {8, 4, 3.4, false},
    };
    struct carry_tally tally;

    carry_tally_yarn(piece, 4, 2, INCH_MM, 1.2, &tally);
    CU_ASSERT_EQUAL(tally.waits, 1);
    CU_ASSERT_EQUAL(tally.carried_rows, 8);
    CU_ASSERT_DOUBLE_EQUAL(tally.carried_mm, 28.44, 1e-9); /* (13.5 + 10.2) x 1.2 */
    carry_tally_yarn(piece, 4, 2, 23.5, 1.2, &tally);
    CU_ASSERT_EQUAL(tally.cuts, 1);
    CU_ASSERT_EQUAL(tally.waits, 0);
}

static void cuts_across_a_part_counted_otherwise(void)
{
    struct carry_stretch piece[] = {
        {6, 3, 2.7, false},
        {2, 1, 2.7, true},
        {6, 3, 2.7, false},
    };
    struct carry_tally tally;

    carry_tally_yarn(piece, 3, 1, INCH_MM, 1.2, &tally);
    CU_ASSERT_EQUAL(tally.cuts, 1);
    CU_ASSERT_EQUAL(tally.waits, 0);
    CU_ASSERT_EQUAL(tally.ends, 4);
    /* The yarn the heel is knitted in does not wait at all. */
    carry_tally_yarn(piece, 3, 0, INCH_MM, 1.2, &tally);
    CU_ASSERT_EQUAL(tally.cuts, 0);
    CU_ASSERT_EQUAL(tally.ends, 2);
}

static void a_yarn_not_used_has_no_ends(void)
{
    struct carry_stretch piece[] = {{6, 3, 2.7, false}};
    struct carry_tally tally = {.cuts = 17, .ends = 23};

    carry_tally_yarn(piece, 1, 5, INCH_MM, 1.2, &tally);
    CU_ASSERT_EQUAL(tally.ends, 0);
    CU_ASSERT_EQUAL(tally.cuts, 0);
    CU_ASSERT_EQUAL(tally.waits, 0);
}

CU_TestInfo tests_carry[] = {
    {"nine rounds at 9.5 to the inch are carried, ten are cut", carries_up_to_the_limit},
    {"a wait of exactly the limit is carried, at any gauge", carries_a_wait_of_exactly_the_limit},
    {"a wait through two fabrics adds both heights", adds_waits_in_fabrics_of_two_heights},
    {"nothing waits across a part counted otherwise", cuts_across_a_part_counted_otherwise},
    {"a yarn that is not used has no ends", a_yarn_not_used_has_no_ends},
    CU_TEST_INFO_NULL,
};
