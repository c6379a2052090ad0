/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Fewest stitches to change to lose catches: one stitch of what a long float passes behind, made in the
 * floating yarn, with all its partners where the chart is symmetrical; and two of those.
 */
#ifndef STRANDWISE_RECOLOUR_H
#define STRANDWISE_RECOLOUR_H

#include <stdbool.h>
#include <stdint.h>

#include "model/catches/floats.h"
#include "symmetry.h"

struct work;

enum { RECOLOUR_CELLS_MAX = 32, RECOLOUR_ONES_MAX = 5 };

/* The band as it is worked: the repeat as a ring, or whole rows with two ends. */
struct recolour_band {
    const struct grid *drawn;   /* the repeat; its symmetries are those to be kept */
    const struct grid *knitted; /* with what lies under stitches sewn on: those are not changed */
    const struct grid *left, *right; /* knitted side stitches; NULL in a ring */
    int repeats;                /* 1 in a ring */
    enum float_ends ends;
    int leave_sts;
    const struct symmetry *symmetries; /* of the drawn repeat; where one holds nearly, partners may differ */
    int nsymmetries;
    struct symmetry_field field;
};

/* Stitches of the repeat to be changed together, by row, then column. */
struct recolour {
    struct recolour_cell {
        int row, column;
        uint8_t was, yarn; /* as charted, and what it becomes */
    } cell[2 * RECOLOUR_CELLS_MAX];
    int ncells;
    int64_t saved;      /* catches fewer, the fewest, once upwards as worked */
    int behind_sts;     /* the longest float, behind a changed stitch, of the yarn it was in */
};

struct recolour_found {
    struct recolour one[RECOLOUR_ONES_MAX]; /* by catches saved; no two under one float */
    int nones;
    bool has_pair;
    struct recolour pair;   /* the most that two such changes save */
    int pair_of[2];         /* ones it is made of; -1: of others */
    bool searched;          /* false: the band is too large */
    bool pair_certain;      /* false: too many to try them all; the pair is the best of those tried */
};

/* Catches fewer with those stitches changed. */
int64_t recolour_saves(struct work *work, const struct recolour_band *band, const struct recolour *change);

/* Notes: a change is a stitch behind which a float over the limit passes, in that float's yarn; none that takes a
 * yarn out of a row altogether. Of
 * changes that save equally: fewest stitches, then the shortest float of the yarn it was in, nearest
 * the middle of its float, lowest row, rightmost. Of pairs that save equally the first two of `one`, else two
 * in different rows. Never fails; beyond a bound of steps it says so.
 * Checked: every single change and every pair on small charts against catches counted afresh. */
void recolour_search(struct work *work, const struct recolour_band *band,
                     struct recolour_found *found);

#endif
