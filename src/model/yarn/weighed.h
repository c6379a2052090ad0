/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What a scale on the way says of the yarn still to be knitted: a belief about several errors at
 * once, narrowed reading by reading. Pure; all memory is the caller's.
 *
 * The model: a weight is one sum of errors (parts by which loops, slack, hands, edges, ball and
 * start are out), each times what it does to the weight in grams. The errors are normal, with
 * the swatch's covariance beforehand; a reading is that sum and the rounding of the scale.
 */
#ifndef STRANDWISE_WEIGHED_H
#define STRANDWISE_WEIGHED_H

/* mean[n]; covariance[n * n], row-major: only its lower triangle is read and kept. */
struct weighed_belief {
    int n;
    double *mean, *covariance;
};

/* How far a reading was from what was believed, and how far it may well have been: one
 * standard error of belief and scale together. */
struct weighed_surprise {
    double off, sd;
};

/* Standard error of one reading that is rounded to steps: step / sqrt(12). */
double weighed_scale_sd(double step_g);

/* row[n]: what each error does to a sum of them. Mean and variance of that sum. */
double weighed_mean(const struct weighed_belief *belief, const double *row);
double weighed_variance(const struct weighed_belief *belief, const double *row, double *scratch);

/* Take one reading: row x errors was seen to be `seen`, within sd (above 0) of its own.
 * Given: scratch[n]. Returned: what it was against the belief before; the belief is the one after.
 * Notes: one reading at a time is the same as all at once, for their roundings are independent.
 * Source: conditioning of a normal distribution, mean + C r (y - r m) / s and C - C r r' C / s
 *   with s = r' C r + sd^2; gsl_blas.
 * Checked: test_weighed, against the closed form of one error and two readings, against least squares
 *   with the errors as further observations, and by simulation. */
struct weighed_surprise weighed_take(struct weighed_belief *belief, const double *row, double seen,
                                     double sd, double *scratch);

/* Something happened that the scale did not see (a ball wound off): error `index` may since be out
 * by sd more. */
void weighed_unsettle(struct weighed_belief *belief, int index, double sd);

/* By how much all variances must grow for `count` surprises whose squares, each in its sd, sum to
 * chi_square: chi_square / count where so much has less than this chance, else 1. */
double weighed_excess(double chi_square, int count, double chance);

#endif
