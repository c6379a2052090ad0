/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Stitches sewn on afterwards: how many, in how many separate spots, how far between.
 */
#ifndef STRANDWISE_DUPLICATE_H
#define STRANDWISE_DUPLICATE_H

#include <stdbool.h>
#include <stdint.h>

#include "base/grid.h"

struct work;

struct duplicate_tally {
    int64_t stitches;
    int64_t spots;         /* groups in which each stitch is within reach of another */
    int64_t across_sts;    /* stitches passed behind from one to the next, sideways */
    int64_t up_rows;       /* and upwards */
};

/* One drawn grid, one yarn. reach: longest jump behind, in stitches or rows, >= 1.
 * Notes: a spot is sewn row by row from below, each row from its right; from stitch to stitch
 *   the strand passes |dx| - 1 stitches and |dy| - 1 rows, none between neighbours. Spots do not
 *   join over the repeat. Source: common practice, no source; the counting is ours.
 * Checked: test_duplicate, by hand. */
void duplicate_tally_grid(struct work *work, const struct grid *grid, int yarn, int reach,
                          struct duplicate_tally *tally);

/* --- strand it, or sew it on ---------------------------------------------------------------- */

/* Is that colour one to weigh in this row? As the third colour or later of the row by stitches (of
 * equal ones the later yarn), or with at most sparse_ratio of the row's stitches; never the only
 * one, nor the one with most stitches. */
bool duplicate_is_choice(const uint8_t *yarn_of, int nstitches, int yarn, double sparse_ratio);

/* The other yarn with most stitches of the row, the first of equal ones: it would lie under the
 * colour sewn on. -1: there is none. */
int duplicate_under(const uint8_t *yarn_of, int nstitches, int yarn);

struct duplicate_pace {
    double sts_per_hour;       /* two colours */
    double one_colour_ratio;   /* time of a stitch for that */
    double three_colours_ratio;
    double catch_sts, sewn_sts, spot_sts; /* time, in stitches of a two-colour row */
};

/* stitches x the row's ratio + catches x catch_sts, and stitches x sewn_sts + spots x spot_sts, in
 * hours at that pace. Source: none, judgement. Checked: test_duplicate, by hand. */
double duplicate_knitting_hours(int64_t stitches, int64_t catches, int colours,
                                const struct duplicate_pace *pace);
double duplicate_sewing_hours(int64_t stitches, int64_t spots, const struct duplicate_pace *pace);

#endif
