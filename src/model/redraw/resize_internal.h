/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What the files of resize share: squares and how they hang together, the old chart laid over the new squares, and
 * a chart being changed with all that is wrong with it.
 */
#ifndef STRANDWISE_RESIZE_INTERNAL_H
#define STRANDWISE_RESIZE_INTERNAL_H

#include "base/arena.h"
#include "base/work.h"
#include "resize.h"

/* --- squares (resize_parts.c) ------------------------------------------------------------------- */

/* Those of a chart: its columns go round, and its rows where they are a ring. */
struct resize_shape {
    int ncols, nrows;
    bool ring;
};

static inline int resize_wrap(int at, int n)
{
    while (at < 0)
        at += n;
    while (at >= n)
        at -= n;
    return at;
}

static inline int resize_floor(int64_t value, int64_t by)
{
    return (int)(value >= 0 ? value / by : -((-value + by - 1) / by));
}

/* from .. from + length - 1, in a ring perhaps. */
struct resize_span {
    int from, length;
};

/* -1: there is none. */
static inline int resize_square(const struct resize_shape *shape, int c, int r)
{
    if (!shape->ring && (r < 0 || r >= shape->nrows))
        return -1;
    return resize_wrap(r, shape->nrows) * shape->ncols + resize_wrap(c, shape->ncols);
}

/* Half of the ways to a square's neighbours: column and row. */
enum { RESIZE_WAYS = 4 };
extern const int resize_ways[RESIZE_WAYS][2];

/* How four squares touch by their corners alone: 1 it and the one up left, 2 the others; or both. */
static inline int resize_slants(uint8_t here, uint8_t beside, uint8_t above, uint8_t corner)
{
    return (here == corner && here != beside && here != above ? 1 : 0) |
           (beside == above && beside != here && beside != corner ? 2 : 0);
}
/* What hangs together over the corner above row r and left of column c: 1 it and the one up left, 2 the others. */
int resize_corner(const struct resize_shape *shape, const uint8_t *cell, int c, int r);
/* Does a square hang together with its neighbour that way, which is there and has its colour? */
bool resize_hangs(const struct resize_shape *shape, const uint8_t *cell, int c, int r, int side, int up);

/* All that hang together with one, eight at most. */
int resize_hanging(const struct resize_shape *shape, const uint8_t *cell, int at, int *list);

/* Things put together two by two; the first of them stands for all. */
int resize_root(int *root, int i);
void resize_unite(int *root, int a, int b);

struct resize_parts {
    int *part;        /* [squares] 0.. */
    int nparts;
    int *head, *next; /* squares of a part: head[part], next[square] and so on; -1: no more */
    int *root;        /* scratch */
};
struct resize_parts resize_parts_make(struct arena *arena, const struct resize_shape *shape);
void resize_parts_find(struct resize_parts *parts, const struct resize_shape *shape, const uint8_t *cell);

/* --- the old chart over the new squares (resize_frame.c) ------------------------------------------- */

/* What lies under a new square: an old one, or all of a part that has a colour. */
struct resize_under {
    int which;
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
    struct resize_shape old_shape, shape; /* shape: of the new chart */
    int ncolours;
    uint8_t yarn[GRID_YARNS_MAX];    /* of a colour */
    uint8_t knitted[GRID_YARNS_MAX]; /* colour it is knitted as */
    int ncells;
    struct resize_axis x, y;
    int64_t square;       /* 4 * old columns * old rows */
    int64_t *cost;        /* [ncells * ncolours] area that differs where the square has that colour */
    uint8_t *best;        /* [ncells] the cheapest colour */
    int64_t bound;
    int norbits;
    int *orbit_start, *orbit_cell; /* squares of orbit o: orbit_cell[orbit_start[o] .. [o + 1]) */
    int *orbit_of;        /* [ncells] */
    struct resize_parts parts; /* of the old chart */
    int *under_start;     /* [ncells * ncolours + 1] into under: old parts of a colour under a square */
    struct resize_under *under;
    uint8_t ground;       /* the colour most stitches have that are in no line */
    struct resize_link *links; /* those of which symmetry makes the rest come first */
    int nlinks, nlinks_all;
    int *allowed_over;    /* [nrows * ncolours] floats over the limit the old rows there have */
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

struct resize_frame *resize_frame_make(struct work *work, const struct resize_question *question,
                                       const struct motif *motif, const struct motif_line *columns,
                                       const struct motif_line *rows, const bool *keeps);
/* The new squares over a span of old ones, if only in part; from may be below 0. (resize_frame.c) */
struct resize_span resize_span_over(int nold, int nnew, int64_t phase, struct resize_span old);
/* The old squares under a new one. Given: room for as many as there are at most, x.stride * y.stride. */
int resize_frame_under(const struct resize_frame *frame, int at, struct resize_under *under);
int64_t resize_frame_area(const struct resize_frame *frame, const uint8_t *cell);

/* --- what may be wrong with a chart ------------------------------------------------------------------ */

/* Is a stitch of the old chart in no two by two of its colour? */
bool resize_is_thin(const struct resize_frame *frame, int c, int r);
/* The links of the old chart, and whether a new one has one. */
void resize_links_set(struct resize_frame *frame, const struct motif *motif, const bool *keeps);
bool resize_link_holds(const struct resize_frame *frame, const uint8_t *cell, const struct resize_link *link);
/* What is uneven about a square, and by all. Old parts must be known. */
void resize_even_set(struct resize_frame *frame);
int resize_even_about(const struct resize_frame *frame, const uint8_t *cell, int at);
int resize_even_all(const struct resize_frame *frame, const uint8_t *cell);
/* Stitches that are unlike their partners: a square and those of its partners that have another colour. Orbits,
 * old parts and the ground must be known. */
void resize_own_set(struct resize_frame *frame);
int resize_own_about(const struct resize_frame *frame, const uint8_t *cell, int at);
/* Floats longer than leave_sts of each colour in a row, the repeat going on; over[ncolours]. */
void resize_row_over(const struct resize_frame *frame, const uint8_t *row, int ncols, int leave_sts, int *over);
/* The most runs that a new row (column) has that lies over an old one, or beside such a one. */
int resize_runs_most(const struct resize_axis *axis, const int *runs, bool ring, int number);

/* Long floats and holes given up, and twice the other faults of the drawing. */
int64_t resize_faults_weight(const struct resize_faults *faults);
/* The area that unevenness, runs merged and unlike pairs weigh as much as. */
int64_t resize_faults_small(const struct resize_frame *frame, const struct resize_faults *faults);
/* Nothing wrong but holes given up, within the aim, is best; then such a chart that differs in at most half as
 * much again as the bound and a twentieth of the motif; then the rest. Of two alike in that, the one of less
 * area, each fault and unevenness weighing as much as an area. */
bool resize_is_better(const struct resize_frame *frame, const struct resize_faults *a, int64_t a_area,
                      const struct resize_faults *b, int64_t b_area);

/* --- a chart being changed (resize_state.c) ------------------------------------------------------- */

/* Squares are painted; then they are looked at, from what costs least to what costs most; then the change is
 * kept, or undone. */
struct resize_state {
    const struct resize_frame *frame;
    uint8_t *cell;
    struct resize_faults faults; /* of the chart as it was kept; where a part only grew, which old part it comes from
                                    was not asked again */
    int *link_broken;     /* [links], of those that stand for the rest once a change was looked at */
    int *row_floats;      /* [rows] over the limit that were not */
    int *row_runs, *column_runs; /* of colour */
    struct resize_parts parts; /* as they were last found: */
    int *owner;           /* [parts] old part it comes from, or -1 */
    int *owned, *touched; /* [old parts] parts that come from it; does any lie over it? */
    int *near_start, *near_link; /* links near a square: near_link[near_start[i] .. [i + 1]) */
    int64_t work;         /* squares looked at so far, about */
    /* the change being tried */
    int *painted, npainted; /* squares painted; their partners are changed too: */
    int *changed, nchanged;
    uint8_t *was;         /* their colours before */
    uint8_t *is_changed;  /* [ncells] */
    int uneven_more, unlike_more;
    bool parts_same;
    struct resize_was {
        int *at, was;
    } *undo;              /* what was known before, the last first */
    int nundo;
    int stamp, *link_seen, *row_seen, *column_seen; /* looked at in this change */
    struct resize_about {
        int n, *square, *place, *seen, *root, *name, *name_before; /* place, seen: [ncells], else by place */
    } about;              /* squares about some that changed */
    int64_t *lies;        /* [old parts] scratch */
};

struct resize_state *resize_state_make(const struct resize_frame *frame, uint8_t *cell);
/* All anew: the chart was changed as a whole, and need not be symmetrical. */
void resize_state_judge(struct resize_state *state);
/* The parts alone: which old one each comes from may be out of date. */
void resize_state_judge_parts(struct resize_state *state);
/* Give a square and its partners a colour. */
void resize_state_paint(struct resize_state *state, int at, uint8_t colour);
/* Look number 0 up to RESIZE_LOOKS - 1 at what is painted: the faults there would be, or the least there can;
 * in the last but one a part more or less where all was in order, which is as good as certain. */
enum { RESIZE_LOOKS = 5 };
void resize_state_look(struct resize_state *state, int look, struct resize_faults *faults);
void resize_state_keep(struct resize_state *state, const struct resize_faults *faults);
void resize_state_undo(struct resize_state *state);

/* The search: state's chart is a start, symmetrical, and becomes the best found, judged. */
void resize_search(struct resize_state *state, uint64_t start);

/* What of an answer stands before there is a chart (resize.c); and what is to be said of one, last judged
 * (resize_look.c). */
struct resize_frame *resize_begin(struct work *work, const struct resize_question *question,
                                  struct resize_answer *answer);
void resize_look_over(const struct resize_state *state, struct resize_answer *answer);

#endif
