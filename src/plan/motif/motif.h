/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Parts of the plan: stitches that could be changed.
 */
#ifndef STRANDWISE_PLAN_MOTIF_H
#define STRANDWISE_PLAN_MOTIF_H

#include <stdbool.h>
#include <stdint.h>

#include "model/motif/recolour.h"

/* Stitches of the repeat made in another yarn, so that fewer floats need catching: one stitch and its
 * partners by the symmetries of the chart, or two such changes. Catches: the fewest. */
struct plan_recolour {
    const struct recolour_cell *cells; /* by row, then column */
    int ncells;
    int64_t saved_repeat;   /* of one repeat as a ring */
    int64_t saved_piece, saved_all; /* as worked: one piece, all of them */
    int64_t sts_piece;      /* stitches changed in one piece */
    int behind_sts;         /* longest float, behind one of them, of the yarn it was in */
};
struct plan_recolours {
    struct plan_recolour one[RECOLOUR_ONES_MAX]; /* the most saved first */
    int nones;
    bool has_pair;
    struct plan_recolour pair;
    int pair_of[2];         /* of `one`, or -1: others */
    bool too_large;         /* for a search; else, with none, there is none */
    bool pair_certain;
};

#endif
