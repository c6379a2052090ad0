/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <CUnit/CUnit.h>
#include <math.h>

#include "base/apportion.h"

extern CU_TestInfo tests_apportion[];

static int sums_to(const int64_t *steps, int n, int64_t whole)
{
    int64_t sum = 0;

    for (int i = 0; i < n; i++)
        sum += steps[i];
    return sum == whole;
}

/* By hand: 7.4 + 7.4 + 7.4 = 22.2, so 22 of 7 + 7 + 7 = 21: the first of equal remainders gets one.
 * Each rounded for itself would make 21. */
static void equal_remainders(void)
{
    const double part[3] = {7.4, 7.4, 7.4};
    int64_t steps[3];

    CU_ASSERT_EQUAL(apportion(part, 3, 1.0, 0, steps), 22);
    CU_ASSERT_EQUAL(steps[0], 8);
    CU_ASSERT_EQUAL(steps[1], 7);
    CU_ASSERT_EQUAL(steps[2], 7);
}

/* By hand, the textbook case of the rule: votes 47, 16, 15.8, 12, 6.1, 3.1 of 100 (tens of thousands)
 * for ten seats: 5, 2, 1, 1, 1, 0 (Hare quota, largest remainders). Source: from memory. */
static void seats(void)
{
    static const double votes[6] = {47.0, 16.0, 15.8, 12.0, 6.1, 3.1};
    static const int64_t expected[6] = {5, 2, 1, 1, 1, 0};
    int64_t steps[6];

    CU_ASSERT_EQUAL(apportion(votes, 6, 10.0, 0, steps), 10);
    for (int i = 0; i < 6; i++)
        CU_ASSERT_EQUAL(steps[i], expected[i]);
}

/* By hand: 7.6 + 7.6 + 7.6 = 22.8, so 23 of 8 + 8 + 8 = 24: the last of equal ones loses one. */
static void too_many(void)
{
    const double part[3] = {7.6, 7.6, 7.6};
    int64_t steps[3];

    CU_ASSERT_EQUAL(apportion(part, 3, 1.0, 0, steps), 23);
    CU_ASSERT_EQUAL(steps[0], 8);
    CU_ASSERT_EQUAL(steps[1], 8);
    CU_ASSERT_EQUAL(steps[2], 7);
}

/* By hand: 93.4 + 0.4 + 3.4 + 178.3 = 275.5, so 276 of 93 + 0 + 3 + 178 = 274. The largest remainders
 * would make a catch's 0.4 into 1; under ten is left, so 93.4 gets one, then 178.3. */
static void small_parts_left(void)
{
    const double part[4] = {93.4, 0.4, 3.4, 178.3}, small[3] = {2.4, 2.4, 2.4};
    int64_t steps[4];

    CU_ASSERT_EQUAL(apportion(part, 4, 1.0, 10, steps), 276);
    CU_ASSERT_EQUAL(steps[0], 94);
    CU_ASSERT_EQUAL(steps[1], 0);
    CU_ASSERT_EQUAL(steps[2], 3);
    CU_ASSERT_EQUAL(steps[3], 179);
    CU_ASSERT_EQUAL(apportion(small, 3, 1.0, 10, steps), 7); /* none is large: any may */
    CU_ASSERT_TRUE(sums_to(steps, 3, 7));
}

/* 0.3 / 0.1 is a hair under 3 in binary: still three steps. */
static void hair(void)
{
    const double part[3] = {0.3, 2.385, 0.0};
    int64_t steps[3];

    CU_ASSERT_EQUAL(apportion(part, 3, 0.1, 0, steps), 27);
    CU_ASSERT_EQUAL(steps[0], 3);
    CU_ASSERT_EQUAL(steps[1], 24);
    CU_ASSERT_EQUAL(steps[2], 0);
}

/* For many columns: they add up, and no part is a whole step out. */
static void always_adds_up(void)
{
    uint32_t seed = 2385;
    int wrong = 0;

    for (int round = 0; round < 20000; round++) {
        double part[14], sum = 0;
        int64_t steps[14], whole;
        const double step = round % 3 == 0 ? 0.1 : round % 3 == 1 ? 1.0 : 3.7;

        for (int i = 0; i < 14; i++) {
            seed = seed * 1664525u + 1013904223u;
            part[i] = seed >> 28 == 0 ? 0 : (seed >> 8) / 200000.0;
            sum += part[i];
        }
        whole = apportion(part, 14, step, 0, steps);
        wrong += !sums_to(steps, 14, whole) || fabs((double)whole * step - sum) > step / 2 + 1e-9;
        for (int i = 0; i < 14; i++)
            wrong += fabs((double)steps[i] * step - part[i]) >= step + 1e-9;
    }
    CU_ASSERT_EQUAL(wrong, 0);
}

static void refused(void)
{
    const double part[2] = {2.385, 7.0}, endless[2] = {2.385, (double)INFINITY};
    int64_t steps[2] = {5, 5};

    CU_ASSERT_EQUAL(apportion(part, 2, 0, 0, steps), 0);
    CU_ASSERT_EQUAL(steps[1], 0);
    CU_ASSERT_EQUAL(apportion(endless, 2, 1, 0, steps), 0);
    CU_ASSERT_EQUAL(apportion(part, 2, 1e-300, 0, steps), 0);
}

CU_TestInfo tests_apportion[] = {
    {"equal remainders: the first", equal_remainders},
    {"ten seats for six parties", seats},
    {"one too many: the last loses", too_many},
    {"small parts are left alone", small_parts_left},
    {"a hair under is not under", hair},
    {"columns add up", always_adds_up},
    {"refused", refused},
    CU_TEST_INFO_NULL,
};
