/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Yarn in one stitch, and slack in a float: from the gauge alone, or from any mixture of what she could
 * measure, by weighted least squares with the covariance of what comes out. Pure but for GSL's own memory.
 */
#ifndef STRANDWISE_LOOP_H
#define STRANDWISE_LOOP_H

#include <stdbool.h>

enum loop_method {
    LOOP_FROM_TWO_YARNS, /* one uneven stranded row unravelled, both yarns: loop and slack */
    LOOP_FROM_PLAIN_ROW, /* a plain row unravelled */
    LOOP_FROM_MARKED,    /* a marked length knitted */
    LOOP_FROM_WEIGHT,    /* swatch weighed, with the ball's length per gram */
    LOOP_FROM_BALL,      /* ball weighed before and after */
    LOOP_FROM_SEVERAL,   /* several of these together */
    LOOP_FROM_GAUGE      /* stitch density alone */
};

/* The three models: NaN where nothing positive comes out.
 *
 * l = sqrt(Ks / (S R)): S, R per mm gives mm. Source: Munden 1959 through Spencer 2001. */
double loop_from_density_mm(double ks, double sts_per_mm, double rows_per_mm);

/* l = Kw / S. Same source; a cross-check. */
double loop_from_width_mm(double kw, double sts_per_mm);

/* l = a w + b h + c d, d the yarn's diameter. Source: Peirce 1947 (c 5.94; from memory). */
double loop_from_thickness_mm(double sts_per_mm, double rows_per_mm, double diameter_mm,
                              double widths, double rows, double diameters);

/* d = sqrt(4 / (pi * m_per_g * packing)): packing in g/cm^3. */
double loop_yarn_diameter_mm(double metres_per_gram, double packing_g_per_cm3);

/* --- the fit of what was measured --- */

enum { LOOP_FIT_GROUPS_MAX = 10, LOOP_FIT_OBSERVATIONS_MAX = 96 };

/* One length of yarn: stitches l + float_mm s + other = length, with its errors (all standard
 * errors: one time in three the truth lies farther off). */
struct loop_observation {
    int group;        /* whose stitch: 0 .. ngroups - 1 */
    double stitches;
    double float_mm;  /* stitches passed behind x stitch width */
    double length_mm; /* yarn known beforehand (catches, edges) taken off */
    double sd_mm;     /* of its own: tape, scale, uneven knitting, what was taken off */
    bool by_tape;     /* shares the error of how straight she pulls */
    bool by_scale;    /* shares the error of the ball's length to its weight */
};

struct loop_fit_errors {
    double pull_sd;       /* as parts of the length */
    double ball_sd;
    double slack, slack_sd; /* where the measurements cannot tell it, or it is given */
    bool slack_given;     /* hers: not to be fitted into the floats */
    double slack_told_sd; /* fitted worse than this, it is not told */
};

enum { LOOP_FIT_SLACK = LOOP_FIT_GROUPS_MAX, LOOP_FIT_BALL, LOOP_FIT_SIZE };

struct loop_fit {
    double loop_mm[LOOP_FIT_GROUPS_MAX]; /* NaN: no measurement of that group */
    double slack;
    bool slack_told;      /* by the measurements */
    double ball_ratio;    /* true length of a ball for the one on its band */
    /* Covariance of the parts by which each may be out: loops by group, slack, ball. */
    double covariance[LOOP_FIT_SIZE][LOOP_FIT_SIZE];
    double chi_square;    /* squares of what is left over, each in its standard error; 0 where the sums cannot
                             tell it from nothing */
    int freedom;          /* measurements beyond what is needed */
    double chance;        /* of so much left over by errors alone; NaN: none beyond */
    int worst;            /* observation whose leaving out would explain most; -1: none beyond */
    double worst_off_mm;  /* how much longer it is than the others alone say */
    double worst_times;   /* the same in its error and theirs: root of the drop of chi-square */
    /* Tape and scale against each other: only where both were used, else false and 0. */
    bool kinds_told;
    double kinds_ratio;   /* a ball's length for its band's by tape and scale alone; else 1 */
    double kinds_times;   /* how far that is from 1, in its errors, a slack not told among them */
    double kinds_drop;    /* how much less chi-square would be without the band's length */
    double ball_bent, pull_bent; /* how far the fit moves ball and pull, in their own errors */
};

/* Given: observations[count], count 1 .. LOOP_FIT_OBSERVATIONS_MAX, lengths and sd_mm above 0.
 * Status: 0; 1 slack not told (it is errors->slack, its error carried into everything);
 *   -1 too few, too many, or not numbers; -2 a stitch or the slack comes out not above 0
 *   (loop_mm and slack as they came out).
 * Notes: pulling and ball are one error each, shared by all lengths and all weights: as two
 *   more unknowns with an observation of 0 each. Slack that is not told: l is fitted with it
 *   fixed, and d l / d slack carries its error over. Where the measurements differ by more
 *   than their errors, the caller judges; loop_fit_widen() makes the errors fit.
 * Source: weighted least squares, gsl_multifit_wlinear_tsvd; chance: chi-square.
 * Checked: test_loop_fit, against the normal equations solved by hand in the test. */
int loop_fit_solve(const struct loop_observation *observations, int count, int ngroups,
                   const struct loop_fit_errors *errors, struct loop_fit *fit);

/* Lengths of group 0 of a named yarn get a group of that yarn's own, from first on, as long as there are
 * any; what names none (yarn[i] -1) or finds none left stays where it is.
 * Given: list[count], changed; yarn[count]; group_of[nyarns], told (-1: none of its own).
 * Returned: how many unknowns more that makes than all in one group. *ngroups: groups in all. */
int loop_fit_split(struct loop_observation *list, const int *yarn, int count, int first, int *group_of,
                   int nyarns, int *ngroups);

/* How much wider than supposed the errors must be for what is left over, as a factor of the
 * variance: chi-square / freedom, at least 1. */
double loop_fit_excess(const struct loop_fit *fit);
void loop_fit_widen(struct loop_fit *fit, double excess);

#endif
