/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <CUnit/CUnit.h>
#include <math.h>

#include "model/yarn/yarn.h"

extern CU_TestInfo tests_yarn[];

static const double inch_mm = 25.4;
static const double yard_m = 0.9144;

static double inches(double mm)
{
    return mm / inch_mm;
}

static double yards(double mm)
{
    return mm / 1000 / yard_m;
}

/* A cuff worked out by hand: 84 stitches of a two-colour motif, 8 to the inch, 0.48 in in a
 * stitch, strands a tenth longer than the stitches they pass, half a width for each catch. */
static void test_cuff_by_hand(void)
{
    const double width = inch_mm / 8, loop = 0.48 * inch_mm;
    double slate = yarn_stitches_mm(469, loop), cream = yarn_stitches_mm(707, loop);

    CU_ASSERT_DOUBLE_EQUAL(inches(slate), 225.1, 0.05);
    CU_ASSERT_DOUBLE_EQUAL(inches(yarn_floats_mm(539, width, 1.10)), 74.1, 0.05);
    CU_ASSERT_DOUBLE_EQUAL(inches(yarn_catches_mm(21, width, 0.5)), 1.3, 0.05);
    slate += yarn_floats_mm(539, width, 1.10) + yarn_catches_mm(21, width, 0.5);
    CU_ASSERT_DOUBLE_EQUAL(inches(slate), 300.5, 0.05);
    CU_ASSERT_DOUBLE_EQUAL(yards(slate), 8.35, 0.005);
    CU_ASSERT_DOUBLE_EQUAL(inches(yarn_floats_mm(385, width, 1.10)), 52.9, 0.05);
    cream += yarn_floats_mm(385, width, 1.10) + yarn_catches_mm(7, width, 0.5);
    CU_ASSERT_DOUBLE_EQUAL(inches(cream), 392.7, 0.05);
    CU_ASSERT_DOUBLE_EQUAL(yards(cream), 10.91, 0.005);
}

/* Worked examples of craft literature (single authors, common practice). */
static void test_printed_estimates(void)
{
    const double forty_in = 40 * inch_mm;

    /* 40 in round at 5 to the inch, 18 in at 7 rows: 200 x 126 stitches, 45 to the yard: 560 yd. */
    CU_ASSERT_DOUBLE_EQUAL(yards(yarn_stitches_mm(200 * 126, 1000 * yard_m / 45)), 560, 1e-9);
    /* A row or cast-on 3 widths and 6 in: 126 in; bind-off 6 widths and 6 in: 246 in. */
    CU_ASSERT_DOUBLE_EQUAL(inches(yarn_edge_mm(forty_in, 3, 6 * inch_mm)), 126, 1e-9);
    CU_ASSERT_DOUBLE_EQUAL(inches(yarn_edge_mm(forty_in, 6, 6 * inch_mm)), 246, 1e-9);
    /* In centimetres: 315 and 615 for 100 cm (15 cm over). */
    CU_ASSERT_DOUBLE_EQUAL(yarn_edge_mm(1000, 3, 150), 3150, 1e-9);
    CU_ASSERT_DOUBLE_EQUAL(yarn_edge_mm(1000, 6, 150), 6150, 1e-9);
    /* Long-tail cast-on: 50 stitches at 5 to the inch take a tail of 30 in. */
    CU_ASSERT_DOUBLE_EQUAL(inches(yarn_edge_mm(50 * inch_mm / 5, 3, 0)), 30, 1e-9);
    /* A wrist of 6 1/4 in, 12 rows at 3 widths: 19 in a row (18.75), 228 in or 6.3 yd. */
    CU_ASSERT_DOUBLE_EQUAL(inches(yarn_edge_mm(6.25 * inch_mm, 3, 0)), 19, 0.5);
    CU_ASSERT_DOUBLE_EQUAL(yards(12 * 19 * inch_mm), 6.3, 0.05);
}

/* By hand, at 0.48 in in a stitch, a tenth more for duplicate stitch, 12 in of tails a spot. */
static void test_duplicate_by_hand(void)
{
    const double loop = 0.48 * inch_mm, tails = 12 * inch_mm;

    CU_ASSERT_DOUBLE_EQUAL(inches(yarn_duplicate_mm(1, loop, 1.1, 0, 1, tails)), 12.5, 0.05);
    CU_ASSERT_DOUBLE_EQUAL(inches(yarn_duplicate_mm(12, loop, 1.1, 0, 1, tails)), 18.3, 0.05);
    /* Two spots, and three stitches of 1/8 in passed behind: 6.336 + 0.375 + 24. */
    CU_ASSERT_DOUBLE_EQUAL(inches(yarn_duplicate_mm(12, loop, 1.1, 3 * inch_mm / 8, 2, tails)),
                           30.711, 0.0005);
}

static void test_balls_by_hand(void)
{
    struct ball_count count;

    /* 336.3 yd and a tenth: 369.9; in balls of 131 yd: 3, with 23 over. */
    CU_ASSERT_EQUAL(yarn_balls(336.3 * yard_m, 0.10, 131 * yard_m, 0, &count), 0);
    CU_ASSERT_EQUAL(count.balls, 3);
    CU_ASSERT_DOUBLE_EQUAL(count.need_m / yard_m, 369.93, 1e-9);
    CU_ASSERT_DOUBLE_EQUAL(count.left_m / yard_m, 23.07, 1e-9);
    CU_ASSERT_DOUBLE_EQUAL(count.last_used, 107.93 / 131, 1e-9);
    /* Two joins of 12 in count on top: 370.6. */
    CU_ASSERT_EQUAL(yarn_balls(336.3 * yard_m, 0.10, 131 * yard_m, yard_m / 3, &count), 0);
    CU_ASSERT_EQUAL(count.balls, 3);
    CU_ASSERT_DOUBLE_EQUAL(count.need_m / yard_m, 369.93 + 2.0 / 3, 1e-9);
    /* A join tips it over: 199.5 m in balls of 100 m with 0.6 m a join needs a third. */
    CU_ASSERT_EQUAL(yarn_balls(199.5, 0, 100, 0.6, &count), 0);
    CU_ASSERT_EQUAL(count.balls, 3);
    CU_ASSERT_DOUBLE_EQUAL(count.need_m, 200.7, 1e-9);
    /* Exactly seven balls are seven: 700 m and a tenth are 7 x 110 m (in binary, a hair more). */
    CU_ASSERT_EQUAL(yarn_balls(700, 0.10, 110, 0, &count), 0);
    CU_ASSERT_EQUAL(count.balls, 7);
    CU_ASSERT_DOUBLE_EQUAL(count.last_used, 1, 1e-9);
    /* Printed (craft literature): 720 yd, buy at least 800 (a ninth more); skeins of 87 yd: 10. */
    CU_ASSERT_EQUAL(yarn_balls(720, 1.0 / 9, 87, 0, &count), 0);
    CU_ASSERT_EQUAL(count.balls, 10);
}

static void test_balls_walked(void)
{
    int wrong = 0;

    for (int length = 1; length <= 400; length++)
        for (int ball = 7; ball <= 60; ball += 7)
            for (int join = 0; join < 7; join += 3) {
                struct ball_count count;
                int64_t balls = 1;

                while (balls * ball < length + (balls - 1) * join)
                    balls++;
                wrong += yarn_balls(length, 0, ball, join, &count) != 0 || count.balls != balls;
                wrong += fabs(count.need_m + count.left_m - (double)(balls * ball)) > 1e-6;
                wrong += !(count.last_used > 0 && count.last_used <= 1);
            }
    CU_ASSERT_EQUAL(wrong, 0);
}

static void test_balls_refused(void)
{
    struct ball_count count;

    CU_ASSERT_EQUAL(yarn_balls(0, 0.1, 210, 0.3, &count), 0);
    CU_ASSERT_EQUAL(count.balls, 0);
    CU_ASSERT_EQUAL(yarn_balls(336, 0.1, 0, 0, &count), -1);
    CU_ASSERT_EQUAL(yarn_balls(336, 0.1, 0.3, 0.3, &count), -1);
    CU_ASSERT_EQUAL(yarn_balls(336, 0.1, 210, -1, &count), -1);
    CU_ASSERT_EQUAL(yarn_balls(-336, 0.1, 210, 0.3, &count), -1);
    CU_ASSERT_EQUAL(yarn_balls((double)NAN, 0.1, 210, 0.3, &count), -1);
    CU_ASSERT_EQUAL(yarn_balls(1e300, 0.1, 210, 0.3, &count), -1);
}

CU_TestInfo tests_yarn[] = {
    {"a cuff by hand", test_cuff_by_hand},
    {"estimates in print", test_printed_estimates},
    {"duplicate stitch by hand", test_duplicate_by_hand},
    {"balls by hand", test_balls_by_hand},
    {"balls against a walk", test_balls_walked},
    {"balls refused", test_balls_refused},
    CU_TEST_INFO_NULL,
};
