/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * How many stitches: from a measure and ease to counts that suit a repeat. Pure.
 */
#ifndef STRANDWISE_SIZING_H
#define STRANDWISE_SIZING_H

#include <stdbool.h>
#include <stdint.h>

#include "base/rational.h"

/* Finished measure in inches: measure with ease (a length added, or a part of the measure). */
struct rational sizing_finished_in(struct rational measure_in, bool ease_is_ratio,
                                   struct rational ease);

/* The count of form multiple * k + plus, k >= 1, nearest the exact target; tie to the larger. */
int64_t sizing_nearest_multiple(struct rational target_sts, int64_t multiple, int64_t plus);

/* The largest such count at or under target (k >= 0 allowed: may be just `plus`; -1 if even that is
 * over), and the smallest over it with k >= 1. */
int64_t sizing_multiple_below(struct rational target_sts, int64_t multiple, int64_t plus);
int64_t sizing_multiple_above(struct rational target_sts, int64_t multiple, int64_t plus);

/* A count with no repeat to suit: of those within near_ratio of the target, and the nearest always, the
 * one with the fewest rounds of shaping from `below` and to `above`; then the fewest lines whose gaps are
 * not all alike (shaping_is_even()); then the nearest; a tie to the larger.
 * Given: target_sts more than 0; below, above: the counts beside it, 0: nothing is shaped there. */
int64_t sizing_plain_count(struct rational target_sts, struct rational near_ratio, int64_t below,
                           int64_t above);

/* Where plain fabric meets a band: the width of the plain part less that of the band, inches, below 0 where
 * the band is the wider; and the stitches of a band as wide as the plain part, exactly. */
double sizing_step_in(int plain_sts, double plain_per_in, int band_sts, double band_per_in);
double sizing_even_sts(int plain_sts, double plain_per_in, double band_per_in);

/* Does a rib of knit + purl stitches divide? Round: a multiple. Flat: a multiple, or a multiple +
 * knit (so that both edges show knit). */
bool sizing_rib_divides(int64_t stitches, int knit, int purl, bool flat);
/* The two counts that divide, nearest at or below and at or above (above > 0;
 * below 0: none). */
void sizing_rib_around(int64_t stitches, int knit, int purl, bool flat, int64_t *below,
                       int64_t *above);
/* The count that divides nearest target; tie to the larger. */
int64_t sizing_rib_nearest(struct rational target_sts, int knit, int purl, bool flat);

int64_t sizing_gcd(int64_t a, int64_t b);
int64_t sizing_lcm(int64_t a, int64_t b); /* -1 on overflow */

#endif
