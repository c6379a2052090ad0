/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Shared by recolour*.c alone.
 */
#ifndef STRANDWISE_RECOLOUR_PARTS_H
#define STRANDWISE_RECOLOUR_PARTS_H

#include <stddef.h>

#include "recolour.h"

struct arena;

/* A stitch that may be changed, the first of its partners. */
struct candidate {
    int row, column;
    uint8_t yarn;
    int ncells, behind_sts;
    int off_middle;       /* twice how far off the middle of its float */
    int from, of_float;   /* its float in the row as worked, and the catches of that */
    int64_t saved, most;  /* by itself; at most, whatever else is changed */
    /* in a ring: what this stitch alone would save; what is over `reach` columns off is as it was */
    int64_t alone;
    int reach;            /* every column, where not known */
    bool is_known;        /* what it saves follows from `alone`: weighed as soon as it is listed */
};

struct recolour_search {
    const struct recolour_band *band;
    struct arena *scratch;
    int width;
    bool exact; /* every symmetry holds: partners are alike, and so is what they save */
    uint8_t *yarn_of;   /* the row last counted, */
    int *column_of;     /* its columns of the repeat (-1: side stitches), */
    struct float_run *runs; /* and its floats */
    int nstitches, nruns;
    int64_t *row_catches; /* fewest, as charted */
    int64_t *row_most;    /* by row: the most that any candidate with a stitch in it could save */
    struct candidate *candidates;
    int ncandidates;
    size_t room;
    int nunknown;         /* of those listed, not yet each but once */
    int *seen_in, stamp;  /* by yarn and column: listed under that stamp */
    int one[RECOLOUR_ONES_MAX]; /* candidates picked */
    int64_t steps, steps_max;
};

int64_t recolour_count_row(struct recolour_search *search, int row, const struct recolour *change);
/* A change that takes a yarn out of a row altogether is none. */
#define RECOLOUR_LOST (INT64_MIN / 4)

/* RECOLOUR_LOST, or catches saved; row_catches filled. */
int64_t recolour_saved(struct recolour_search *search, const struct recolour *change);
int recolour_behind(struct recolour_search *search, const struct recolour *change);
void recolour_change_of(const struct recolour_search *search, const struct candidate *candidate,
                        struct recolour *change);

/* false: more partners than there is room for, or one that may not be changed. */
bool recolour_with_partners(const struct recolour_band *band, int row, int column, uint8_t yarn,
                            struct recolour *change);
void recolour_note_most(struct recolour_search *search, const struct recolour *change, int64_t most);

/* Do the two, or a change with itself, touch the same floats anywhere? If not, their savings add up. */
bool recolour_meet(const struct recolour_search *search, const struct recolour *x, int reach,
                   const struct recolour *y);

int recolour_compare(const void *a, const void *b); /* candidates, best first */

/* recolour_list.c */
/* All candidates in as many words as decide: of those that are known the best of each row. */
void recolour_list(struct recolour_search *search);
/* And those that together with another could save more than that; all of them sorted again. */
void recolour_list_more(struct recolour_search *search, int64_t saved);

/* recolour_pairs.c */
bool recolour_share_float(struct recolour_search *search, const struct candidate *a,
                          const struct candidate *b);
void recolour_find_pair(struct recolour_search *search, struct recolour_found *found);

#endif
