/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Expected values: school arithmetic done by hand, and for the many small fractions a second
 * definition: cross products and counting upwards, without reduction.
 */
#include <CUnit/CUnit.h>
#include <math.h>
#include <stdint.h>

#include "base/rational.h"

static int is(struct rational a, int64_t num, int64_t den)
{
    return a.num == num && a.den == den;
}

static void made_in_lowest_terms(void)
{
    CU_ASSERT(is(rational_make(21, 6), 7, 2));
    CU_ASSERT(is(rational_make(21, -6), -7, 2));
    CU_ASSERT(is(rational_make(-21, -6), 7, 2));
    CU_ASSERT(is(rational_make(0, -5), 0, 1));
    CU_ASSERT(is(rational_whole(-83), -83, 1));
    CU_ASSERT(!rational_is_value(rational_make(3, 0)));
    CU_ASSERT(!rational_is_value(rational_none()));
}

static void four_operations_by_hand(void)
{
    struct rational a = rational_make(5, 6), b = rational_make(3, 8);

    CU_ASSERT(is(rational_add(a, b), 29, 24));
    CU_ASSERT(is(rational_sub(b, a), -11, 24));
    CU_ASSERT(is(rational_mul(a, b), 5, 16));
    CU_ASSERT(is(rational_div(a, b), 20, 9));
    CU_ASSERT(is(rational_div(a, rational_make(-3, 8)), -20, 9));
    CU_ASSERT(!rational_is_value(rational_div(a, rational_whole(0))));
}

static int agrees(struct rational a, int64_t num, int64_t den)
{
    return rational_is_value(a) && a.num * den == num * a.den;
}

static void all_small_fractions(void)
{
    int wrong = 0;

    for (int p = -7; p <= 7; p++)
        for (int q = 1; q <= 7; q++)
            for (int r = -7; r <= 7; r++)
                for (int s = 1; s <= 7; s++) {
                    struct rational a = rational_make(p, q), b = rational_make(r, s);
                    int compared = rational_compare(a, b);

                    wrong += !agrees(rational_add(a, b), p * s + r * q, q * s);
                    wrong += !agrees(rational_sub(a, b), p * s - r * q, q * s);
                    wrong += !agrees(rational_mul(a, b), p * r, q * s);
                    wrong += r ? !agrees(rational_div(a, b), p * s, q * r)
                               : rational_is_value(rational_div(a, b));
                    wrong += compared != (p * s > r * q) - (p * s < r * q);
                }
    CU_ASSERT_EQUAL(wrong, 0);
}

/* floor is the last whole n with n * q <= p, found by counting. */
static void rounding_small_fractions(void)
{
    int wrong = 0;

    for (int p = -40; p <= 40; p++)
        for (int q = 1; q <= 9; q++) {
            struct rational a = rational_make(p, q);
            int below = -50, nearest = -50;

            while ((below + 1) * q <= p)
                below++;
            while (2 * (nearest + 1) * q <= 2 * p + q)
                nearest++;
            wrong += rational_floor(a) != below;
            wrong += rational_ceil(a) != (below * q == p ? below : below + 1);
            wrong += rational_nearest(a) != nearest;
            wrong += rational_sign(a) != (p > 0) - (p < 0);
        }
    CU_ASSERT_EQUAL(wrong, 0);
}

static void a_half_goes_up(void)
{
    CU_ASSERT_EQUAL(rational_nearest(rational_make(7, 2)), 4);
    CU_ASSERT_EQUAL(rational_nearest(rational_make(-7, 2)), -3);
    CU_ASSERT_EQUAL(rational_nearest(rational_make(349, 100)), 3);
}

static void five_at_five_is_one_inch(void)
{
    /* 3.3 stitches at 3.3 to the inch: in binary fractions 0.1 * 3 differs from 0.3 */
    struct rational tenth = rational_make(1, 10);
    struct rational sum = rational_add(rational_add(tenth, tenth), tenth);

    CU_ASSERT_EQUAL(rational_compare(sum, rational_make(3, 10)), 0);
    CU_ASSERT_EQUAL(
        rational_compare(rational_div(rational_whole(5), rational_whole(5)), rational_whole(1)), 0);
}

static void the_largest(void)
{
    const int64_t big = INT64_MAX;
    struct rational a = rational_make(big, big - 1), b = rational_make(big - 1, big - 2);

    /* big/(big-1) < (big-1)/(big-2), since big(big-2) = (big-1)^2 - 1 */
    CU_ASSERT_EQUAL(rational_compare(a, b), -1);
    CU_ASSERT_EQUAL(rational_compare(b, a), 1);
    CU_ASSERT(is(rational_mul(rational_make(big, 3), rational_make(3, big)), 1, 1));
    CU_ASSERT(is(rational_mul(a, rational_make(big - 1, big)), 1, 1));
    CU_ASSERT_EQUAL(rational_nearest(rational_make(big, 2)), big / 2 + 1);
    CU_ASSERT_EQUAL(rational_floor(rational_whole(-big)), -big);
    CU_ASSERT_EQUAL(rational_ceil(rational_make(-big, 2)), -(big / 2));
}

static void too_large_is_none_and_stays_none(void)
{
    const struct rational big = rational_whole(INT64_MAX), one = rational_whole(1);
    const struct rational over[] = {
        rational_add(big, one),
        rational_sub(rational_whole(-INT64_MAX), one),
        rational_mul(big, rational_whole(2)),
        rational_div(rational_make(1, INT64_MAX), rational_whole(2)),
        rational_add(rational_make(1, INT64_MAX), rational_make(1, INT64_MAX - 1)),
        rational_make(INT64_MIN, 1),
    };

    for (size_t i = 0; i < sizeof over / sizeof over[0]; i++) {
        CU_ASSERT(!rational_is_value(over[i]));
        CU_ASSERT(!rational_is_value(rational_add(over[i], one)));
        CU_ASSERT(!rational_is_value(rational_sub(one, over[i])));
        CU_ASSERT(!rational_is_value(rational_mul(over[i], rational_whole(0))));
        CU_ASSERT(!rational_is_value(rational_div(one, over[i])));
    }
    CU_ASSERT(is(rational_make(INT64_MIN, 2), INT64_MIN / 2, 1));
}

static void as_a_double(void)
{
    CU_ASSERT_DOUBLE_EQUAL(rational_double(rational_make(-477, 200)), -2.385, 1e-15);
    CU_ASSERT(isnan(rational_double(rational_none())));
}

CU_TestInfo tests_rational[] = {
    {"fractions are made in lowest terms", made_in_lowest_terms},
    {"the four operations, by hand", four_operations_by_hand},
    {"all small fractions against cross products", all_small_fractions},
    {"floor, ceiling and nearest by counting", rounding_small_fractions},
    {"a half goes up", a_half_goes_up},
    {"five stitches at five to the inch are one inch", five_at_five_is_one_inch},
    {"the largest that fit are exact", the_largest},
    {"what does not fit is none, and stays none", too_large_is_none_and_stays_none},
    {"as a double", as_a_double},
    CU_TEST_INFO_NULL,
};
