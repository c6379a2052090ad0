/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Gauge from counts taken in several places. Pure.
 */
#ifndef STRANDWISE_GAUGE_H
#define STRANDWISE_GAUGE_H

#include "base/rational.h"

/* One direction of a swatch: stitches, or rows. */
struct gauge_axis {
    struct rational per_in; /* pooled: sum of counts / sum of lengths, exactly */
    int nplaces;
    double spread;     /* (largest - smallest) / mean; 0 with one place */
    double half_width; /* of the 95 % interval of the mean, as a part of it; NaN with one place */
};

struct gauge {
    struct gauge_axis stitches;
    struct gauge_axis rows;
};

/* Given: counts[ncounts] > 0, each over over_in inches > 0.
 * Status: 0; 1 one place only (half_width NaN); -1 no counts, or one that is not above 0;
 *   -2 not exactly representable.
 * Notes: half_width = t(0.975, n-1) * s / sqrt(n) / mean, s the sample standard deviation.
 * Source: pooling: the quotient of totals; interval: Student's t (gsl_cdf_tdist_Pinv).
 * Checked: test_gauge against trade examples worked by hand and printed t tables. */
int gauge_pool(const struct rational *counts, int ncounts, struct rational over_in,
               struct gauge_axis *axis);

/* The longest run of stitches left loose, and the first that is caught, for a limit.
 * leave up to X: floor(X S). catch at X: ceil(X S) - 1. May be below 1: the caller judges.
 * No value: 0. */
int64_t gauge_leave_up_to_sts(struct rational limit_in, struct rational per_in);
int64_t gauge_catch_at_sts(struct rational limit_in, struct rational per_in);

#endif
