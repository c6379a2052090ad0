/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <CUnit/CUnit.h>
#include <stdlib.h>

#include "model/gauge/sizing.h"

extern CU_TestInfo tests_sizing[];

static struct rational r(int64_t num, int64_t den)
{
    return rational_make(num, den);
}

static void test_finished_size(void)
{
    struct rational finished;

    /* By hand: an ankle of 9 in, 5 % less: 8.55 in; at 8 to the inch 68.4 stitches. */
    finished = sizing_finished_in(r(9, 1), true, r(-5, 100));
    CU_ASSERT_EQUAL(rational_compare(finished, r(855, 100)), 0);
    CU_ASSERT_EQUAL(rational_compare(rational_mul(finished, r(8, 1)), r(684, 10)), 0);
    /* A pad of 16 in, cover 1/2 in smaller: 15 1/2 in. */
    finished = sizing_finished_in(r(16, 1), false, r(-1, 2));
    CU_ASSERT_EQUAL(rational_compare(finished, r(31, 2)), 0);
    /* Common practice, printed: 9 in x 0.9 x 7.5 = 60.75, so about 60 (multiple of 4). */
    finished = sizing_finished_in(r(9, 1), true, r(-10, 100));
    CU_ASSERT_EQUAL(sizing_nearest_multiple(rational_mul(finished, r(15, 2)), 4, 0), 60);
}

static int64_t below(struct rational target, int64_t n, int64_t m)
{
    struct count_set counts = sizing_counts(&(struct count_rule){n, m, -1}, 1);

    return sizing_below(&counts, rational_floor(target));
}

static int64_t above(struct rational target, int64_t n, int64_t m)
{
    struct count_set counts = sizing_counts(&(struct count_rule){n, m, -1}, 1);

    return sizing_above(&counts, rational_floor(target));
}

static void test_multiples_by_hand(void)
{
    /* Cushion: 15 1/2 in at 5 1/2 is 85.25; repeats of 20, 1 to balance, 4 plain: 85. */
    CU_ASSERT_EQUAL(sizing_nearest_multiple(r(8525, 100), 20, 5), 85);
    /* Sock: 68.4, repeats of 12: 60 or 72, 72 nearer. */
    CU_ASSERT_EQUAL(below(r(684, 10), 12, 0), 60);
    CU_ASSERT_EQUAL(above(r(684, 10), 12, 0), 72);
    CU_ASSERT_EQUAL(sizing_nearest_multiple(r(684, 10), 12, 0), 72);
    /* Half-way: the larger. A hair below half-way: the smaller. */
    CU_ASSERT_EQUAL(sizing_nearest_multiple(r(66, 1), 12, 0), 72);
    CU_ASSERT_EQUAL(sizing_nearest_multiple(r(6599, 100), 12, 0), 60);
    /* A target that fits is its own below, and above is the next. */
    CU_ASSERT_EQUAL(below(r(72, 1), 12, 0), 72);
    CU_ASSERT_EQUAL(above(r(72, 1), 12, 0), 84);
    /* Smaller than one repeat: never none; and nothing below the side stitches. */
    CU_ASSERT_EQUAL(sizing_nearest_multiple(r(7, 1), 20, 5), 25);
    CU_ASSERT_EQUAL(below(r(7, 1), 20, 5), 0);
    CU_ASSERT_EQUAL(below(r(4, 1), 20, 5), 0);
    CU_ASSERT_EQUAL(above(r(4, 1), 20, 5), 25);
    CU_ASSERT_EQUAL(sizing_nearest_multiple(r(4, 1), 20, 5), 25);
    CU_ASSERT_EQUAL(sizing_nearest_multiple(rational_none(), 20, 5), 0);
}

/* Common practice, printed with patterns: "multiple of n plus m", and counts that are. */
static void test_multiples_printed(void)
{
    static const int64_t printed[][3] = {{6, 1, 31},  {6, 1, 43}, {5, 1, 11}, {5, 1, 56},
                                         {5, 1, 101}, {6, 2, 8},  {6, 2, 14}, {6, 2, 20},
                                         {8, 2, 10},  {8, 2, 18}, {8, 2, 26}};

    for (size_t i = 0; i < sizeof printed / sizeof printed[0]; i++) {
        int64_t n = printed[i][0], m = printed[i][1], count = printed[i][2];

        CU_ASSERT_EQUAL(sizing_nearest_multiple(r(count, 1), n, m), count);
        CU_ASSERT_EQUAL(below(r(2 * count + 1, 2), n, m), count);
        CU_ASSERT_EQUAL(above(r(2 * count - 1, 2), n, m), count);
    }
    /* Yoke: 276 less a quarter, a third, two fifths, bent to repeats of 8, 4, 4 (by hand). */
    CU_ASSERT_EQUAL(sizing_nearest_multiple(r(276 * 3, 4), 8, 0), 208);
    CU_ASSERT_EQUAL(sizing_nearest_multiple(r(208 * 2, 3), 4, 0), 140);
    CU_ASSERT_EQUAL(sizing_nearest_multiple(r(140 * 3, 5), 4, 0), 84);
}

/* Against the definition, walked count by count, for quarter-stitch targets. */
static void test_multiples_walked(void)
{
    int wrong = 0;

    for (int64_t n = 1; n <= 13; n++)
        for (int64_t m = 0; m <= 7; m++)
            for (int64_t quarter = 1; quarter <= 240; quarter++) {
                int64_t best = n + m;

                for (int64_t count = n + m; count <= 100; count += n)
                    if (llabs(4 * count - quarter) <= llabs(4 * best - quarter))
                        best = count;
                wrong += sizing_nearest_multiple(r(quarter, 4), n, m) != best;
            }
    CU_ASSERT_EQUAL(wrong, 0);
}

static bool divides(int64_t count, int knit, int purl, bool ends)
{
    struct count_rule rule = sizing_rib(knit, purl, ends);

    return sizing_suits(&rule, count);
}

/* Nearest under the count, or it itself, and over it. */
static bool stands_between(int64_t low, int64_t count, int64_t high, int knit, int purl, bool ends)
{
    struct count_rule rule = sizing_rib(knit, purl, ends);
    struct count_set counts = sizing_counts(&rule, 1);

    return sizing_below(&counts, count) == low && sizing_above(&counts, count) == high;
}

static void test_rib_by_hand(void)
{
    /* Knit 2, purl 2: 72 = 18 x 4; 70 = 17 x 4 + 2 shows knit at both edges, flat alone. */
    CU_ASSERT_TRUE(divides(72, 2, 2, false));
    CU_ASSERT_FALSE(divides(70, 2, 2, false));
    CU_ASSERT_TRUE(divides(70, 2, 2, true));
    CU_ASSERT_FALSE(divides(71, 2, 2, true));
    CU_ASSERT_FALSE(divides(0, 2, 2, false));
    CU_ASSERT_FALSE(divides(12, 0, 0, false));
    CU_ASSERT_TRUE(stands_between(68, 70, 72, 2, 2, false));
    CU_ASSERT_TRUE(stands_between(70, 71, 73, 3, 2, true)); /* 70, and 13 x 5 + 3 = 68, 73 */
    CU_ASSERT_TRUE(stands_between(0, 3, 4, 2, 2, false));
    CU_ASSERT_EQUAL(sizing_rib_nearest(r(3, 1), 2, 2, false), 4);
    /* 90 % of 72 is 64.8: 64. 66: half-way, the larger. 68.9: 68, a whole count at its floor. */
    CU_ASSERT_EQUAL(sizing_rib_nearest(r(648, 10), 2, 2, false), 64);
    CU_ASSERT_EQUAL(sizing_rib_nearest(r(66, 1), 2, 2, false), 68);
    CU_ASSERT_EQUAL(sizing_rib_nearest(r(689, 10), 2, 2, false), 68);
    CU_ASSERT_EQUAL(sizing_rib_nearest(r(119, 2), 1, 1, false), 60);
}

static void test_rib_walked(void)
{
    int wrong = 0;

    for (int knit = 1; knit <= 4; knit++)
        for (int purl = 1; purl <= 4; purl++)
            for (int64_t quarter = 1; quarter <= 200; quarter++)
                for (int flat = 0; flat < 2; flat++) {
                    int64_t best = 0;

                    for (int64_t n = 1; n <= 70; n++) {
                        int64_t rest = n % (knit + purl);
                        bool divides = rest == 0 || (flat && rest == knit);

                        if (divides &&
                            (best == 0 || llabs(4 * n - quarter) <= llabs(4 * best - quarter)))
                            best = n;
                    }
                    wrong += sizing_rib_nearest(r(quarter, 4), knit, purl, flat) != best;
                }
    CU_ASSERT_EQUAL(wrong, 0);
}

static void test_common_multiples(void)
{
    /* By hand. */
    CU_ASSERT_EQUAL(sizing_gcd(276, 68), 4);
    CU_ASSERT_EQUAL(sizing_gcd(140, 56), 28);
    CU_ASSERT_EQUAL(sizing_lcm(8, 12), 24);
    CU_ASSERT_EQUAL(sizing_lcm(sizing_lcm(8, 10), 12), 120);
    CU_ASSERT_EQUAL(sizing_lcm(INT64_MAX, INT64_MAX - 1), -1);
}

/* Rounds of shaping: stitches doubled, or halved with the odd one left, until there are enough. */
static int rounds_walked(int from, int to)
{
    int rounds = 0;

    for (int now = from; now < to; now *= 2)
        rounds++;
    for (int now = from; now > to; now = (now + 1) / 2)
        rounds++;
    return rounds;
}

/* Plain stitches dealt out one by one to the gaps of a round: do all get as many? */
static bool gaps_walked(int from, int to)
{
    int gaps = to > from ? to - from : from - to, plain = to > from ? from : from - 2 * gaps;
    int gap[200] = {0};

    for (int i = 0; i < plain; i++)
        gap[i % gaps]++;
    for (int i = 1; i < gaps; i++)
        if (gap[i] != gap[0])
            return false;
    return true;
}

static int uneven_walked(int from, int to)
{
    if (from == to)
        return 0;
    if (rounds_walked(from, to) == 1)
        return !gaps_walked(from, to);
    for (int now = from; now < to; now *= 2)
        if (now * 2 == to)
            return 0;
    for (int now = from; now > to && now % 2 == 0; now /= 2)
        if (now / 2 == to)
            return 0;
    return 1;
}

/* Every target in thirds, between every pair of some counts, nearness 1 % and 5 %: the best of all counts
 * by the order in the header. */
static void test_plain_walked(void)
{
    static const int beside[] = {0, 24, 60, 84};
    int wrong = 0, moved = 0;

    for (int number = 0; number < 16; number++)
        for (int third = 30; third <= 390; third++)
            for (int percent = 1; percent <= 5; percent += 4) {
                int below = beside[number / 4], above = beside[number % 4], best = 0, told;
                long best_cost = 0;

                for (int n = 1; n <= 150; n++) {
                    long off = labs(3L * n - third), cost;

                    if (2 * off > 3 && 100 * off > (long)percent * third)
                        continue; /* neither the nearest nor near */
                    cost = (below ? rounds_walked(below, n) : 0) + (above ? rounds_walked(n, above) : 0);
                    cost = cost * 10 + (below ? uneven_walked(below, n) : 0) +
                           (above ? uneven_walked(n, above) : 0);
                    cost = cost * 10000 + off;
                    if (best == 0 || cost <= best_cost) {
                        best = n;
                        best_cost = cost;
                    }
                }
                told = (int)sizing_plain_count(r(third, 3), r(percent, 100), below, above);
                wrong += told != best;
                moved += told != (2 * third + 3) / 6;
            }
    CU_ASSERT_EQUAL(wrong, 0);
    CU_ASSERT_TRUE(moved > 1000);
    /* By hand, a neck: 87.3 from 132. 44 decreases over 44 plain stitches, (k1, k2tog) 44 times. */
    CU_ASSERT_EQUAL(sizing_plain_count(r(873, 10), r(1, 100), 132, 0), 88);
    CU_ASSERT_EQUAL(sizing_plain_count(r(873, 10), r(1, 100), 0, 0), 87);
}

CU_TestInfo tests_sizing[] = {
    {"simpler plain counts against a walk through all counts", test_plain_walked},
    {"measure with ease", test_finished_size},
    {"multiples by hand", test_multiples_by_hand},
    {"multiples printed with patterns", test_multiples_printed},
    {"nearest multiple against a walk through all counts", test_multiples_walked},
    {"rib by hand", test_rib_by_hand},
    {"nearest rib against a walk through all counts", test_rib_walked},
    {"common multiples", test_common_multiples},
    CU_TEST_INFO_NULL,
};
