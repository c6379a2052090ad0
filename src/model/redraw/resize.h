/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A chart redrawn over other numbers of stitches and rows, its finished size the same.
 *
 * The true drawing is the old chart stretched to the new squares. The new chart is to differ from it
 * in the least area, keeping every symmetry; its lines unbroken; what was apart apart; and its
 * floats within the limit where they were. Where that cannot all be had, a fault weighs as much as two
 * stitches drawn otherwise, a hole of one stitch as one and a half, a long float as one, an unevenness, a
 * run of colour merged or a stitch unlike its partner in a motif as a quarter; what could not be had is counted.
 *
 * Words. Stitches of one colour side by side or above each other hang together. Of two pairs that
 * cross at a corner, the colour with fewer stitches round about hangs together (a line), both where
 * they are even. What hangs together is a part. A stitch is thin where no two by two of its colour
 * holds it; a link is two stitches that hang together, one of them thin: a piece of a line. So are two side by
 * side along a rib, four or more on end and at most two across at both. The ground is the colour with
 * most stitches that are not thin (of those the one with most stitches). A link
 * holds where new stitches over both, or all of them one stitch aside (or one row up or down, for a
 * line along the row), hang together: a line may step aside, which its area pays for, but has no gap.
 */
#ifndef STRANDWISE_RESIZE_H
#define STRANDWISE_RESIZE_H

#include "base/grid.h"
#include "model/motif/motif.h"

struct work;

enum { RESIZE_SIDE_MAX = 400 };

struct resize_question {
    const struct grid *old; /* no empty squares */
    bool rows_are_ring;     /* worked several times upwards */
    int ncols, nrows;       /* of the new chart, 1 to RESIZE_SIDE_MAX */
    int old_leave_sts, leave_sts; /* longest run left loose at the old gauge, and at the new */
    uint8_t knitted_as[GRID_YARNS_MAX]; /* yarn index: itself, or the yarn it is sewn on over */
};

/* What is not as it was. */
struct resize_faults {
    int lines;   /* links of the old chart that are broken in the new */
    int split;   /* parts in more pieces than they were, each piece more; parts that came from nothing */
    int joined;  /* parts that ran into another */
    int lost;    /* parts of which nothing is left */
    int floats;  /* floats over the limit beyond those of the old rows that lie there */
    int holes;   /* of those lost: single stitches of the ground inside something */
    int uneven;  /* pairs of stitches of a colour, not the ground, that touch side by side or one above the other
                    where no old one of it under them does (a one-stitch line two wide); by their corners alone
                    (a chequer where all was solid): each twice. Below one and a half times the stitches, or rows */
    int merged;  /* runs of colour that an old row or column has and no new one over it or beside that */
    int unlike;  /* stitches whose partner has another colour, across a mirror that a motif has of its own and not the
                    whole chart: a motif being parts not of the ground whose boxes overlap, three stitches by three
                    or more, its axis gone to a line or the middle of a stitch nearest its true place */
};

/* One direction. New square i lies over old squares first[i] and so on, count[i] of them, in part; in a ring. */
struct resize_axis {
    int nold, nnew;
    int *first;      /* [nnew] old square its near edge lies in */
    int *count;      /* [nnew] old squares it lies over */
    int64_t *weight; /* [nnew * stride] length over each, a whole new square being 2 * nold */
    int stride;
    int *new_first, *new_count; /* [nold] the new squares over each old one, likewise */
    int64_t phase;   /* as in motif_line */
};

/* Rows or columns, from 0, ascending. */
struct resize_numbers {
    int *number;
    int count;
};

/* Old rows or columns with more runs of colour than any new one that lies over them or beside such a one. */
struct resize_simpler {
    struct resize_numbers at;
    int worst, was, now; /* of the one that lost most: its number, its runs, the most a new one has */
};

struct resize_answer {
    struct grid chart;
    struct motif motif;          /* of the old chart */
    struct motif_line columns, rows;
    struct resize_axis x, y;
    bool keeps[SYMMETRY_GENERATORS_MAX]; /* by move */
    struct resize_faults faults;
    int64_t area, bound;         /* differing from the true drawing; least there can be without any condition */
    int64_t square;              /* area of one stitch, in the same unit */
    bool recognisable;           /* false: over half of the links broken, or of the parts joined or lost; or it differs
                                    in no less than the ground alone would, which shows nothing */
    const uint8_t *changed;      /* by new stitch: a colour that covers less of it than another does */
    int nchanged;
    struct resize_numbers broken_rows, broken_columns; /* old: a line or part there could not be kept */
    struct resize_numbers broken_new_rows;             /* new ones over broken_rows */
    /* where no line or part broke: */
    struct resize_simpler simpler_rows, simpler_columns;
    int ends_lost;               /* where there are fewer stitches or rows too: tips and short arms that are gone */
    struct resize_numbers ends_rows; /* old rows that have ends of the parts that lost some */
};

/* A stretch of a row or column with more runs of colour than new stitches lie over it. */
struct resize_crowd {
    int from, length; /* in old stitches or rows, round the ring if there is one */
    int runs, room;   /* room: new ones that lie over it, if only in part; runs <= room: none is crowded */
};

/* The stitches and rows of the new chart nearest the exact counts, as trade has it: odd stays odd
 * and even even where there is a centre line; every symmetry kept where that costs at most a sixth
 * of the size, the centre line whatever it costs. Where one direction cannot hold a symmetry within that, the
 * other gives up none of its size for it. */
void resize_counts(const struct grid *old, bool rows_are_ring, struct rational exact_cols,
                   struct rational exact_rows, int *ncols, int *nrows);

/* Returned: the answer, in work's arena. Deterministic; the work done is bounded by counts.
 * Checked: test_resize_search, against every chart there can be at tiny sizes. */
const struct resize_answer *resize_chart(struct work *work, const struct resize_question *question);

/* The stretch of old row (along) or column `number` that lacks most new stitches, the shortest of these.
 * Every run needs a stitch of its own: a stretch that lacks one cannot be kept as it is in its place.
 * Checked: test_resize, by laying both charts on a grid fine enough for both. */
struct resize_crowd resize_crowd_find(const struct grid *old, const struct motif_line *line, bool along,
                                      bool ring, int number);

/* Runs of colour in a row (along) or column; ring: the last may go on with the first. */
int resize_runs(const struct grid *grid, bool along, bool ring, int number);

/* Lines and parts together. */
int resize_faults_of_drawing(const struct resize_faults *faults);

#endif
