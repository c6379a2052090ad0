/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The charts proof-read: which symmetry they have or just miss, whether the repeat meets itself, single
 * stitches, rows of three colours, shades that read as one. Nothing is put right; each doubt is
 * reported as a note with its place.
 */
#ifndef STRANDWISE_PROOFREAD_H
#define STRANDWISE_PROOFREAD_H

#include "model/motif/proof.h"
#include "model/motif/row_slip.h"
#include "model/motif/symmetry.h"
#include "read/chart/chart.h"

struct work;

/* A stitch that breaks a symmetry, and what it would agree with. */
struct proof_fault {
    int row, column;
    int partner_row, partner_column; /* -1: outside, in the ground; of three and more: where they have their majority */
    uint8_t yarn, wanted;
    bool likely; /* the slip is the first of the two: another near symmetry misses it too */
};

struct proof_row {
    int row, period;
};

/* The best of each kind, where it holds or was likely meant to. */
struct proof_symmetries {
    bool holds[SYMMETRY_KINDS], nearly[SYMMETRY_KINDS];
    bool given_up; /* some were not searched to the end */
    struct symmetry of[SYMMETRY_KINDS]; /* where it holds, or nearly */
};

/* One chart; charts side by side each for themselves, and then all together for the joins. */
struct proof_chart {
    const struct chart *chart;
    const char *name;
    struct symmetry_field field;
    bool whole;             /* no part of a row of charts: it meets itself */
    bool too_large;         /* not looked at for symmetries and strays */
    struct proof_symmetries symmetries;
    bool has_mirror_off;
    struct symmetry mirror_off; /* where it neither holds nor nearly does: the nearest mirror */
    const struct proof_fault *off; /* the stitches that break that, where they are few */
    int noff;
    int off_row;            /* more, and all of them in this row; -1: they are not */
    int broken;             /* the kind the faults are of; -1: none */
    const struct proof_fault *faults;
    int nfaults;
    const struct proof_row *rows; /* that do not meet at the join */
    int nrows;
    const struct proof_gap *gaps, *gaps_up; /* sideways; upwards: rows and columns exchanged */
    int ngaps, ngaps_up;
    const struct proof_stray *specks; /* single stitches of yarns that hardly have any */
    int nspecks;
    const struct proof_stray *strays; /* those of them that nothing explains */
    int nstrays;
    const struct proof_hole *holes; /* where something is left out of a regular seeding */
    int nholes;
    struct proof_steps steps;
    struct row_slip slips[ROW_SLIPS_MAX]; /* of a whole row; two: the one or the other */
    int nslips;
    const int *three;       /* rows of three yarns or more as knitted, from 0 */
    int nthree;
};

/* Two shades of one band. */
struct proof_shades {
    int part, yarn, other;
    double apart;   /* of lightness, 1: from black to white */
    bool close, soft;
    int alone_row;  /* first row with just these two; -1: none */
    int beside_row; /* where the outline of one is mostly the other: first row they stand beside each other in */
};

struct proofreading {
    const struct proof_chart *charts;
    int ncharts;
    const struct proof_shades *shades;
    int nshades;
};

/* Given: charts[i] of part i, all read. Reported: chart-partner, chart-row, chart-seeding, chart-meet, chart-stray,
 * shades-close.
 * Source of lightness: CIE L* of the sRGB shade (shade_lab()). */
const struct proofreading *proofread(struct work *work, const struct project *project,
                                     const struct chart *const *charts);

/* Notes: nearly: at most so many stitches, and so large a part, break it (tables: proof_symmetry_...). */
void proof_find_symmetries(struct work *work, const struct symmetry_field *field,
                           struct proof_symmetries *found);

/* "the mirror about stitch 7", "the half-turn", "the shift by 6 stitches", "the mirror about stitch 7, moved up
 * 4 rounds". */
const char *proof_symmetry_words(struct work *work, const struct proof_chart *chart, bool round,
                                 const struct symmetry *symmetry);

/* --- proofread*.c alone ---------------------------------------------------------------------- */

/* Each doubt as a note, with its place. (proofread_say.c) */
void proofread_say(struct work *work, const struct project *project, const struct proofreading *read);

/* The stitches that break a symmetry, of a pair the one that is likely the slip. Returned: how many.
 * (proofread_faults.c) */
int proofread_faults(struct work *work, const struct proof_chart *chart, const struct symmetry *broken,
                     const struct proof_fault **listed);

#endif
