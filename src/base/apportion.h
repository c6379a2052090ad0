/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A whole shared out so that the rounded parts add up to the rounded whole. Pure.
 */
#ifndef STRANDWISE_APPORTION_H
#define STRANDWISE_APPORTION_H

#include <stdint.h>

enum { APPORTION_MAX = 64 };

/* Given: part[n], none below 0, n at most APPORTION_MAX; step, what is counted in: 0.1, 1; firm: parts
 *   of fewer steps are left at the nearest, as long as there are others: on them a step would show.
 * Returned: the sum of the parts in steps, rounded to the nearest; steps[n] adds up to it exactly.
 * Notes: each part is rounded to the nearest; where that makes too few, those with the largest
 *   remainders get one more, of equal ones the first; where too many, those with the smallest lose
 *   one. With firm 0 that is the rule of largest remainders, and no part is a whole step out. With a
 *   step not positive, or a sum beyond counting: 0, and 0 for every part.
 * Source: the rule of largest remainders, common practice; firm is ours. Checked: test_apportion, by
 *   hand. */
int64_t apportion(const double *part, int n, double step, double firm, int64_t *steps);

#endif
