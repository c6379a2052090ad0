/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A likely range for a length of yarn, and the chance that so many balls are enough. Pure.
 *
 * The model: every cause of error multiplies its part of the yarn; parts and errors are added
 * up to first order, and the sum is taken as log-normal with the estimate in its middle.
 * Nothing is drawn at random.
 */
#ifndef STRANDWISE_LIKELY_H
#define STRANDWISE_LIKELY_H

#include <stdint.h>

enum likely_cause {
    LIKELY_LOOP,       /* yarn in a stitch of the stranded fabric */
    LIKELY_PLAIN_LOOP, /* and of the plain one */
    LIKELY_SLACK,
    LIKELY_BALL,       /* length of a ball for that on its band */
    LIKELY_DRIFT,      /* tighter or looser in the piece than in the swatch */
    LIKELY_WIDTH,      /* stitches to the inch */
    LIKELY_HEIGHT,     /* rows to the inch */
    LIKELY_CATCH,      /* yarn in a catch */
    LIKELY_EDGE,       /* cast-on, bind-off, seams, tails and the like */
    LIKELY_RIB,        /* a rib stitch for a plain one */
    LIKELY_CAUSES
};

/* Errors as parts (0.03: three per cent), standard errors and what they have in common. */
struct likely_errors {
    double covariance[LIKELY_CAUSES][LIKELY_CAUSES];
};

/* How many metres more for each whole part that a cause is out: d length / d ln cause. */
struct likely_growth {
    double metres[LIKELY_CAUSES];
};

/* Variance in square metres of what grows so. */
double likely_variance(const struct likely_growth *growth, const struct likely_errors *errors);

/* From variance to the spread of the logarithm: sqrt(ln(1 + variance / length^2)); NaN where
 * length is not above 0. */
double likely_log_sd(double length_m, double variance_m2);

/* The length that is enough with this chance (0 < chance < 1): length e^(z log_sd). */
double likely_quantile_m(double length_m, double log_sd, double chance);

/* The chance that at_most_m is enough: Phi(ln(at_most / length) / log_sd). 0 for nothing. */
double likely_chance(double length_m, double log_sd, double at_most_m);

/* How far out, nine times in ten, something of this standard error is: 1.645 of it. */
double likely_nine_in_ten(double sd);
double likely_sd_of_nine_in_ten(double part);

/* Standard error of a gauge counted in nplaces, as a part: half_width of its 95 % interval
 * taken back to one standard error, never under that of single places (place_sd) as the table
 * has it. NaN half_width: one place. */
double likely_gauge_sd(int nplaces, double half_width, double place_sd);

#endif
