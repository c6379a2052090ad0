/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Errors drawn for simulated knitters, the same every time: from the law the plan supposes, and
 * from others of the same size.
 */
#ifndef STRANDWISE_TEST_DICE_H
#define STRANDWISE_TEST_DICE_H

#include <math.h>
#include <stdint.h>

enum law {
    LAW_NORMAL,
    LAW_SKEWED, /* a shifted log-normal of spread 0.8: skewness 3.7, kurtosis 33 */
    LAW_TAILED, /* Student's t of 4 degrees */
    LAW_SLIPS,  /* normal; but 2 knitters in 100 knit 20 % tighter or looser than their swatch */
    LAWS
};

struct dice {
    uint64_t state;
    enum law law;
};

/* Published generator: G. L. Steele et al. (2014), SplitMix64. */
static inline double dice_even(struct dice *dice)
{
    uint64_t z = dice->state += 0x9e3779b97f4a7c15;

    z = (z ^ (z >> 30)) * 0xbf58476d1ce4e5b9;
    z = (z ^ (z >> 27)) * 0x94d049bb133111eb;
    z ^= z >> 31;
    return ((double)(z >> 11) + 0.5) / 9007199254740992.0;
}

static inline double dice_between(struct dice *dice, double low, double high)
{
    return low + (high - low) * dice_even(dice);
}

static inline double dice_normal(struct dice *dice)
{
    double radius = sqrt(-2 * log(dice_even(dice)));

    return radius * cos(2 * acos(-1.0) * dice_even(dice));
}

/* An error of middle 0 and the named standard error. */
static inline double dice_error(struct dice *dice, double sd)
{
    const double spread = 0.8, mean = exp(spread * spread / 2);
    const double deviation = mean * sqrt(exp(spread * spread) - 1);
    double z = dice_normal(dice);

    if (dice->law == LAW_SKEWED)
        z = (exp(spread * z) - mean) / deviation;
    else if (dice->law == LAW_TAILED) /* chi-square of 4 over 4; t of 4 has a variance of 2 */
        z /= sqrt(-log(dice_even(dice) * dice_even(dice)) / 2) * sqrt(2.0);
    return sd * z;
}

/* Tighter or looser in the piece than in the swatch. */
static inline double dice_drift(struct dice *dice, double sd)
{
    double drift = dice_error(dice, sd);

    if (dice->law == LAW_SLIPS && dice_even(dice) < 0.02)
        drift += dice_even(dice) < 0.5 ? 0.2 : -0.2;
    return drift;
}

#endif
