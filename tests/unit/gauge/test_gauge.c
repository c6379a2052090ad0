/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <CUnit/CUnit.h>
#include <math.h>

#include "model/gauge/gauge.h"

extern CU_TestInfo tests_gauge[];

static struct rational r(int64_t num, int64_t den)
{
    return rational_make(num, den);
}

static bool same(struct rational a, struct rational b)
{
    return rational_is_value(a) && rational_is_value(b) && rational_compare(a, b) == 0;
}

/* Worked by hand: 31 1/2, 32, 32 1/4 each over 4 in are 95 3/4 over 12 in. */
static void test_pooled(void)
{
    const struct rational stitches[] = {r(63, 2), r(32, 1), r(129, 4)};
    const struct rational rows[] = {r(38, 1), r(77, 2), r(38, 1)};
    struct gauge_axis axis;

    CU_ASSERT_EQUAL(gauge_pool(stitches, 3, r(4, 1), &axis), 0);
    CU_ASSERT_TRUE(same(axis.per_in, r(9575, 1200)));
    CU_ASSERT_EQUAL(axis.nplaces, 3);
    CU_ASSERT_DOUBLE_EQUAL(axis.spread, 0.75 / (95.75 / 3), 1e-12);
    CU_ASSERT_DOUBLE_EQUAL(axis.spread, 0.023, 0.0005); /* as written out: 2.3 % */
    CU_ASSERT_EQUAL(gauge_pool(rows, 3, r(4, 1), &axis), 0);
    CU_ASSERT_TRUE(same(axis.per_in, r(1145, 120)));
    CU_ASSERT_DOUBLE_EQUAL(rational_double(axis.per_in), 9.542, 0.0005);
}

/* Student's t, two-sided 95 %, as printed in any statistical table:
 * 12.706205 (1 degree of freedom), 4.302653 (2), 2.776445 (4). */
static void test_interval(void)
{
    const struct rational two[] = {r(31, 1), r(33, 1)};
    const struct rational three[] = {r(31, 1), r(32, 1), r(33, 1)};
    const struct rational five[] = {r(30, 1), r(31, 1), r(32, 1), r(33, 1), r(34, 1)};
    struct gauge_axis axis;

    /* Standard deviations by hand: sqrt 2, 1, sqrt 2.5; mean 32 throughout. */
    CU_ASSERT_EQUAL(gauge_pool(two, 2, r(4, 1), &axis), 0);
    CU_ASSERT_DOUBLE_EQUAL(axis.half_width, 12.706205 * 1.0 / 32, 1e-7);
    CU_ASSERT_EQUAL(gauge_pool(three, 3, r(4, 1), &axis), 0);
    CU_ASSERT_DOUBLE_EQUAL(axis.half_width, 4.302653 / sqrt(3) / 32, 1e-8);
    CU_ASSERT_EQUAL(gauge_pool(five, 5, r(4, 1), &axis), 0);
    CU_ASSERT_DOUBLE_EQUAL(axis.half_width, 2.776445 * sqrt(2.5 / 5) / 32, 1e-8);
}

static void test_few_and_none(void)
{
    const struct rational one[] = {r(63, 2)}, bad[] = {r(32, 1), r(-32, 1)};
    const struct rational none[] = {r(32, 1), r(0, 1)}, unknown[] = {r(32, 1), rational_none()};
    const struct rational huge[] = {r(INT64_MAX, 2), r(INT64_MAX, 3)};
    struct gauge_axis axis;

    CU_ASSERT_EQUAL(gauge_pool(one, 1, r(4, 1), &axis), 1);
    CU_ASSERT_TRUE(same(axis.per_in, r(63, 8)));
    CU_ASSERT_TRUE(isnan(axis.half_width));
    CU_ASSERT_EQUAL(gauge_pool(one, 0, r(4, 1), &axis), -1);
    CU_ASSERT_EQUAL(gauge_pool(one, 1, r(0, 1), &axis), -1);
    CU_ASSERT_EQUAL(gauge_pool(bad, 2, r(4, 1), &axis), -1);
    CU_ASSERT_EQUAL(gauge_pool(none, 2, r(4, 1), &axis), -1);
    CU_ASSERT_EQUAL(gauge_pool(unknown, 2, r(4, 1), &axis), -1);
    CU_ASSERT_EQUAL(gauge_pool(huge, 2, r(4, 7), &axis), -2);
    CU_ASSERT_FALSE(rational_is_value(axis.per_in));
}

/* Common practice, printed: at 5 stitches to the inch a float over five is left, over six
 * caught. The other custom catches the five. */
static void test_longest_run(void)
{
    CU_ASSERT_EQUAL(gauge_leave_up_to_sts(r(1, 1), r(5, 1)), 5);
    CU_ASSERT_EQUAL(gauge_catch_at_sts(r(1, 1), r(5, 1)), 4);
    /* By hand: 21 1/4 to 4 in, limit 3/4 in: 3.98 stitches. */
    CU_ASSERT_EQUAL(gauge_leave_up_to_sts(r(3, 4), r(85, 16)), 3);
    CU_ASSERT_EQUAL(gauge_catch_at_sts(r(3, 4), r(85, 16)), 3);
    CU_ASSERT_EQUAL(gauge_leave_up_to_sts(r(1, 8), r(5, 1)), 0);
}

/* First caught run by "catch at" 1 in and 3/4 in, written out for gauges 4 to 9 (by hand). */
static void test_catch_numbers(void)
{
    static const int quarters[] = {16, 17, 18, 20, 22, 24, 26, 28, 30, 32, 34, 36};
    static const int at_inch[] = {4, 5, 5, 5, 6, 6, 7, 7, 8, 8, 9, 9};
    static const int at_three_quarters[] = {3, 4, 4, 4, 5, 5, 5, 6, 6, 6, 7, 7};

    for (int i = 0; i < 12; i++) {
        CU_ASSERT_EQUAL(gauge_catch_at_sts(r(1, 1), r(quarters[i], 4)) + 1, at_inch[i]);
        CU_ASSERT_EQUAL(gauge_catch_at_sts(r(3, 4), r(quarters[i], 4)) + 1, at_three_quarters[i]);
    }
}

/* A motif of reeds, top row first; worked 26 times round. */
static const char *const reeds[] = {"........", "...x....", "..xxx...", "..xxx...", "..xxx...",
                                    "...x....", "...x...x", "...x..xx", "...x.xx.", "...xxx..",
                                    "...xx...", "...x....", "........"};

/* Stitch by stitch round the ring: a strand is caught each time it has passed one stitch more
 * than the longest run left. */
static int catches_in_row(const char *row, char colour, int64_t longest)
{
    int start = 0, catches = 0;
    int64_t behind = 0;

    while (start < 8 && row[start] != colour)
        start++;
    for (int i = 1; start < 8 && i < 8; i++) {
        behind = row[(start + i) % 8] == colour ? 0 : behind + 1;
        if (behind > longest) {
            catches++;
            behind = 0;
        }
    }
    return catches;
}

static int catches_in_26(int64_t longest)
{
    int catches = 0;

    for (int i = 0; i < 13; i++)
        catches += catches_in_row(reeds[i], 'x', longest) + catches_in_row(reeds[i], '.', longest);
    return 26 * catches;
}

/* Worked by hand for "catch at" 1 in: over 4 up to 5 to the inch 208 catches, then 104 up to
 * 6, 78 up to 7, none beyond. */
static void test_cliffs_of_reeds(void)
{
    static const int want[] = {208, 104, 78, 0};

    for (int i = 0; i < 4; i++) {
        CU_ASSERT_EQUAL(catches_in_26(gauge_catch_at_sts(r(1, 1), r(401 + 100 * i, 100))), want[i]);
        CU_ASSERT_EQUAL(catches_in_26(gauge_catch_at_sts(r(1, 1), r(5 + i, 1))), want[i]);
    }
    /* "Leave up to": exactly 5 to the inch lies on the far side of the cliff. */
    CU_ASSERT_EQUAL(catches_in_26(gauge_leave_up_to_sts(r(1, 1), r(5, 1))), 104);
}

CU_TestInfo tests_gauge[] = {
    {"counts pooled", test_pooled},
    {"interval against printed t", test_interval},
    {"one place, none, not exact", test_few_and_none},
    {"longest run left loose", test_longest_run},
    {"catch numbers by gauge", test_catch_numbers},
    {"cliffs of the reeds", test_cliffs_of_reeds},
    CU_TEST_INFO_NULL,
};
