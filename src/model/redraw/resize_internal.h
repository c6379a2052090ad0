/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What the files of resize share: the old chart laid over the new squares.
 */
#ifndef STRANDWISE_RESIZE_INTERNAL_H
#define STRANDWISE_RESIZE_INTERNAL_H

#include "base/arena.h"
#include "base/work.h"
#include "resize.h"

/* One direction. New square i lies over old squares old_at(i, 0..count[i]-1), in part. */
struct resize_axis {
    int nold, nnew;
    int *first;      /* [nnew] old square its near edge lies in */
    int *count;      /* [nnew] old squares it lies over */
    int64_t *weight; /* [nnew * stride] length over each, a whole new square being 2 * nold */
    int stride;
    int *new_first, *new_count; /* [nold] the new squares over each old one, in a ring */
    int64_t phase;   /* as in motif_line */
};

/* Old parts of one colour under one new square. */
struct resize_under {
    int part;
    int64_t area;
};

/* Two squares of the old chart that hang together, a piece of a line. */
struct resize_link {
    int a_col, a_row, b_col, b_row;
    uint8_t colour;
    int times; /* links that symmetry makes of it, itself one; 0: it is one of those made */
};

struct resize_frame {
    struct work *work;
    const struct resize_question *question;
    struct grid old;      /* colours counted from 0 */
    int ncolours;
    uint8_t yarn[GRID_YARNS_MAX];    /* of a colour */
    uint8_t knitted[GRID_YARNS_MAX]; /* colour it is knitted as */
    int ncols, nrows, ncells;
    bool ring;
    struct resize_axis x, y;
    int64_t square;       /* 4 * old columns * old rows */
    int64_t *cost;        /* [ncells * ncolours] area that differs where the square has that colour */
    uint8_t *best;        /* [ncells] the cheapest colour */
    int64_t bound;
    int norbits;
    int *orbit_start, *orbit_cell; /* squares of orbit o: orbit_cell[orbit_start[o] .. [o + 1]) */
    int *orbit_of;        /* [ncells] */
    int nparts;           /* of the old chart */
    const int *old_part;  /* [old squares] */
    int *under_start;     /* [ncells * ncolours + 1] into under */
    struct resize_under *under;
    uint8_t ground;       /* the colour most stitches have that are in no line */
    struct resize_link *links; /* those of which symmetry makes the rest come first */
    int nlinks, nlinks_all;
    int *allowed_over;    /* [nrows * ncolours] floats over the limit the old rows there have */
    int *row_times;       /* [nrows] rows that symmetry makes of it, itself one; 0: it is one of those */
    uint8_t *is_hole;     /* [old parts] one stitch of the ground */
    int *row_runs, *column_runs; /* [old rows], [old columns] runs of colour */
    int *own_start, *own_with; /* squares across a mirror that a motif has of its own, not those of one orbit:
                             of square i own_with[own_start[i] .. [i + 1]) */
    uint8_t *touches;     /* [ncells * ncolours] EVEN_ bits; 0: the colour may touch as it likes */
};

/* What the old stitches of a colour under a new square do. */
enum {
    EVEN_UNDER = 1,  /* lie there */
    EVEN_BESIDE = 2, /* touch another of that colour side by side */
    EVEN_ABOVE = 4,  /* one above the other */
    EVEN_SLANT = 8   /* by their corners alone */
};

/* How the squares of a chart hang together. */
struct resize_parts {
    struct grid grid;
    bool ring;
    uint8_t *diagonal; /* [squares] of the corner up and left of a square: 1 it and the one up-left hang
                          together, 2 its two neighbours do */
    int *part;         /* [squares] 0.. */
    int nparts;
    int *root;         /* scratch */
};

struct resize_parts resize_parts_make(struct arena *arena, int ncols, int nrows, bool ring);
void resize_parts_find(struct resize_parts *parts, const uint8_t *cell);
/* As in diagonal[], for one corner. */
uint8_t resize_parts_corner(const struct resize_parts *parts, const uint8_t *cell, int c, int r);
/* In the ring, two squares next to each other, corners where they hang together. */
bool resize_parts_touch(const struct resize_parts *parts, int a_col, int a_row, int b_col, int b_row);

struct resize_frame *resize_frame_make(struct work *work, const struct resize_question *question,
                                       const struct motif *motif, const struct motif_line *columns,
                                       const struct motif_line *rows, const bool *keeps);

/* Room for judging many charts one after the other. */
struct resize_judge_room {
    struct resize_parts parts;
    struct resize_runs *runs;
    int *owner;      /* [new parts] old part, or -1 */
    int *pair_head, *pair_next, *pair_part; /* lists of old parts under a new one */
    int64_t *pair_area;
    int npairs;
    int *owned;      /* [old parts] */
    uint8_t *touched; /* [old parts] */
};
struct resize_judge_room *resize_judge_room_make(const struct resize_frame *frame);
struct resize_faults resize_frame_judge(const struct resize_frame *frame, struct resize_judge_room *room,
                                        const uint8_t *cell);
/* Parts alone: split, joined, lost. */
void resize_parts_judge(const struct resize_frame *frame, struct resize_judge_room *room,
                        const uint8_t *cell, struct resize_faults *faults);
/* One link. parts: of the new chart, for its size. */
bool resize_line_holds(const struct resize_frame *frame, const struct resize_parts *parts,
                       const uint8_t *cell, const struct resize_link *link);
/* Is a stitch of the old chart in no two by two of its colour? */
bool resize_is_thin(const struct resize_frame *frame, int c, int r);
/* -1: the old chart has no such square. */
int resize_old_square(const struct resize_frame *frame, int c, int r);
/* The links of the old chart; parts: how it hangs together. */
void resize_links_set(struct resize_frame *frame, const struct resize_parts *parts, const struct motif *motif,
                      const bool *keeps);
/* Old parts must be known. */
void resize_even_set(struct resize_frame *frame);
/* What is uneven about a square. */
int resize_even_about(const struct resize_frame *frame, const uint8_t *cell, int at);
void resize_even_judge(const struct resize_frame *frame, const uint8_t *cell, struct resize_faults *faults);
/* Orbits and old parts must be known. */
void resize_own_set(struct resize_frame *frame);
/* Stitches that are unlike their partners: a square and those of its partners that have another colour. */
int resize_own_about(const struct resize_frame *frame, const uint8_t *cell, int at);
void resize_own_judge(const struct resize_frame *frame, const uint8_t *cell, struct resize_faults *faults);
int resize_row_faults(const struct resize_frame *frame, const uint8_t *cell, int row);

/* Runs of colour of a new chart against the old. Judge: all of them; the runs missing in all. Change: some
 * squares have another colour now; runs missing were `before`. Then settle: the change is kept, or undone. */
struct resize_runs;
void resize_runs_old(struct resize_frame *frame);
struct resize_runs *resize_runs_make(const struct resize_frame *frame);
int resize_runs_judge(struct resize_runs *runs, const uint8_t *cell);
int resize_runs_change(struct resize_runs *runs, const uint8_t *cell, const int *changed, int nchanged, int before);
void resize_runs_settle(struct resize_runs *runs, const int *changed, int nchanged, bool keep);
int64_t resize_frame_area(const struct resize_frame *frame, const uint8_t *cell);

/* Floats longer than leave_sts of each colour in a row, the repeat going on; over[ncolours]. */
void resize_row_over(const struct resize_frame *frame, const uint8_t *row, int ncols, int leave_sts,
                     int *over);
/* Long floats and holes given up, and twice the other faults of the drawing. */
int64_t resize_faults_weight(const struct resize_faults *faults);
/* The area that unevenness and unlike pairs weigh as much as. */
int64_t resize_faults_small(const struct resize_frame *frame, const struct resize_faults *faults);
/* Nothing wrong but holes given up, within the aim, is best; then such a chart that differs in at most half as
 * much again as the bound and a twentieth of the motif; then the rest. Of two alike in that, the one of less
 * area, each fault and unevenness weighing as much as an area. */
bool resize_is_better(const struct resize_frame *frame, const struct resize_faults *a, int64_t a_area,
                      const struct resize_faults *b, int64_t b_area);

/* The parts of a chart being changed. */
struct resize_pieces;
struct resize_pieces *resize_pieces_make(const struct resize_frame *frame, const struct resize_parts *parts,
                                         const uint8_t *cell);
/* parts was found for the chart as it is. */
void resize_pieces_set(struct resize_pieces *pieces);
/* Squares were changed, and the corners about them: the faults of parts that there are now. Then one of keep
 * and undo. Returned: the squares looked at. */
int resize_pieces_change(struct resize_pieces *pieces, const int *changed, int nchanged,
                         struct resize_faults *faults);
void resize_pieces_undo(struct resize_pieces *pieces);
/* Also where the squares changed without change being called: they only joined pieces beside them.
 * Returned: the squares looked at, all or none. */
int resize_pieces_keep(struct resize_pieces *pieces, const int *changed, int nchanged);

/* A chart being changed a few squares at a time: what changes is judged where it lies. */
struct resize_sketch {
    const struct resize_frame *frame;
    struct resize_judge_room *room; /* its corners are kept up to date */
    struct resize_pieces *pieces;
    uint8_t *cell;
    struct resize_faults faults;
    uint8_t *line_broken;  /* [links] */
    int *row_faults;       /* [rows] */
    int *near_start, *near_link; /* links near a square: near_link[near_start[i] .. [i + 1]) */
    int *seen, stamp;      /* [links] */
    int *changed, nchanged; /* squares, of the change being tried */
    uint8_t *was;          /* their colours before */
    int *mark;             /* [ncells] place in changed[] + 1; 0: it was not changed */
    int uneven_more, unlike_more; /* by the change being tried */
    struct resize_runs *runs;
    bool runs_tried;       /* runs were counted with the change being tried */
    bool corners_tried;    /* the room has the corners of what is tried */
    int *redone, nredone;  /* links whose line_broken was turned */
    int *old_row, *old_row_faults, nold_rows;
    int64_t work;          /* squares looked at so far, about */
    int64_t whole_work;    /* and to judge the parts of the whole chart anew */
};

struct resize_sketch *resize_sketch_make(const struct resize_frame *frame, struct resize_judge_room *room,
                                         uint8_t *cell);
/* All anew: the chart was changed as a whole. */
void resize_sketch_judge(struct resize_sketch *sketch);
/* The parts alone anew: what local change leaves of their owners may be out of date. */
void resize_sketch_judge_parts(struct resize_sketch *sketch);
/* The faults as they were, with the unevenness and the unlike pairs of what is painted now. */
struct resize_faults resize_sketch_small(const struct resize_sketch *sketch);
/* Give an orbit a colour; then, for all painted together, the faults there would be, or false where
 * their weight is over most, or as good as certain to be. Then one of keep and undo. */
void resize_sketch_paint(struct resize_sketch *sketch, int orbit, uint8_t colour);
bool resize_sketch_try(struct resize_sketch *sketch, int64_t most, struct resize_faults *faults);
void resize_sketch_keep(struct resize_sketch *sketch, const struct resize_faults *faults);
void resize_sketch_undo(struct resize_sketch *sketch);
/* resize_local.c: do the squares just changed leave what hangs together as it was? false: perhaps not. */
bool resize_local_same(const struct resize_sketch *sketch);

/* Marks old rows and columns where a line or part could not be kept; cell was the last that room judged. */
void resize_hurt_find(const struct resize_frame *frame, const struct resize_judge_room *room,
                      const uint8_t *cell, uint8_t *rows, uint8_t *columns);

/* The search: cell is a start, symmetrical, and becomes the best found. */
void resize_search(const struct resize_frame *frame, struct resize_judge_room *room, uint8_t *cell,
                   uint64_t start);
/* A start: columns and rows of the old chart left out or doubled. */
void resize_maps_start(const struct resize_frame *frame, uint8_t *cell);

#endif
