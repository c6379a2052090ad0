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

int64_t sizing_gcd(int64_t a, int64_t b);
int64_t sizing_lcm(int64_t a, int64_t b); /* -1 on overflow */


/* --- counts that suit: repeats and ribs ------------------------------------------------- */

/* A repeat or a rib: count mod multiple = plus mod multiple, with one multiple at least, or also_plus. */
struct count_rule {
    int64_t multiple, plus;
    int64_t also_plus; /* -1: none (a rib with two ends ends as it begins: multiple, or multiple + knit) */
};
struct count_rule sizing_rib(int knit, int purl, bool ends);
bool sizing_suits(const struct count_rule *rule, int64_t count);

/* All counts that meet some rules: multiple k + one of residue[], ascending, and `least` or more: a whole
 * multiple of each goes in. */
enum { COUNT_RESIDUES = 16 };
struct count_set {
    int64_t multiple; /* least common multiple of the rules; 0: it does not fit in 64 bits */
    int64_t residue[COUNT_RESIDUES];
    int nresidues;    /* 0: the rules never agree (two leave different rests in what they have in common) */
    int64_t least;
};

/* Given: at most four rules with an also_plus, each of which may double the residues.
 * Checked: test_together: every pair of rules up to 12, counted out; test_fit_order: the counts around. */
struct count_set sizing_counts(const struct count_rule *rules, int nrules);
/* The largest such count at or under `most`, the smallest over `over`, the nearest the exact target (a tie to
 * the larger); 0: none. */
int64_t sizing_below(const struct count_set *counts, int64_t most);
int64_t sizing_above(const struct count_set *counts, int64_t over);
int64_t sizing_nearest(const struct count_set *counts, struct rational target_sts);
/* Of one repeat, multiple * k + plus, k >= 1; of a rib. */
int64_t sizing_nearest_multiple(struct rational target_sts, int64_t multiple, int64_t plus);
int64_t sizing_rib_nearest(struct rational target_sts, int knit, int purl, bool ends);

#endif
