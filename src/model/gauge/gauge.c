/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "gauge.h"

#include <gsl/gsl_cdf.h>
#include <math.h>

/* 95 % between the two ends leaves 2.5 % beyond each. */
static const double upper_quantile = 0.975;

/* Half the 95 % interval of the mean, as a part of the mean; NaN where there is none. */
static double interval_half_width(const struct rational *counts, int ncounts, double mean)
{
    double squares = 0, deviation, quantile, half;

    if (ncounts < 2)
        return (double)NAN;
    for (int i = 0; i < ncounts; i++) {
        double off = rational_double(counts[i]) - mean;

        squares += off * off;
    }
    deviation = sqrt(squares / (ncounts - 1));
    quantile = gsl_cdf_tdist_Pinv(upper_quantile, ncounts - 1);
    half = quantile * deviation / sqrt(ncounts) / mean;
    return isfinite(half) ? half : (double)NAN;
}

int gauge_pool(const struct rational *counts, int ncounts, struct rational over_in,
               struct gauge_axis *axis)
{
    struct rational sum = rational_whole(0), smallest, largest, mean;

    *axis = (struct gauge_axis){.per_in = rational_none(), .half_width = (double)NAN};
    if (ncounts < 1 || !rational_is_value(over_in) || rational_sign(over_in) <= 0)
        return -1;
    smallest = largest = counts[0];
    for (int i = 0; i < ncounts; i++) {
        if (!rational_is_value(counts[i]) || rational_sign(counts[i]) <= 0)
            return -1;
        if (rational_compare(counts[i], smallest) < 0)
            smallest = counts[i];
        if (rational_compare(counts[i], largest) > 0)
            largest = counts[i];
        sum = rational_add(sum, counts[i]);
    }
    mean = rational_div(sum, rational_whole(ncounts));
    axis->per_in = rational_div(mean, over_in);
    if (!rational_is_value(axis->per_in))
        return -2;
    axis->nplaces = ncounts;
    axis->spread = (rational_double(largest) - rational_double(smallest)) / rational_double(mean);
    axis->half_width = interval_half_width(counts, ncounts, rational_double(mean));
    return isfinite(axis->half_width) ? 0 : 1;
}

int64_t gauge_leave_up_to_sts(struct rational limit_in, struct rational per_in)
{
    struct rational limit_sts = rational_mul(limit_in, per_in);

    return rational_is_value(limit_sts) ? rational_floor(limit_sts) : 0;
}

int64_t gauge_catch_at_sts(struct rational limit_in, struct rational per_in)
{
    struct rational limit_sts = rational_mul(limit_in, per_in);

    return rational_is_value(limit_sts) ? rational_ceil(limit_sts) - 1 : 0;
}
