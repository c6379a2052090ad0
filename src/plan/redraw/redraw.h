/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The chart of a band redrawn for another gauge at its finished size: all that any output says of it,
 * built once, const from then on.
 *
 * Rows and columns count from 0 here and from 1 in every output. Lengths: *_in inches, *_mm.
 */
#ifndef STRANDWISE_PLAN_REDRAW_H
#define STRANDWISE_PLAN_REDRAW_H

#include "model/redraw/resize.h"
#include "plan/plan.h"
#include "plan/motif/proofread.h"

enum { REDRAW_WAYS_MAX = 4 };

/* What is wanted. */
struct redraw_asked {
    int band;                            /* of the plan's piece */
    bool has_gauge;                      /* else the gauge stays as it is */
    struct rational per_in, rows_per_in; /* has_gauge */
    int ncols, nrows;                    /* 0: as the gauge has it */
    bool has_around;                     /* the piece is to have another measure */
    struct rational around_in;
};

/* Stitches, or rows. */
struct redraw_line {
    int was, now;
    double exact;          /* so many would have the old size exactly */
    double was_in, now_in; /* finished, of one repeat of the chart */
    double off_part;       /* 0.02: 2 % larger than it was */
    int nearer;            /* over a tenth is lost to keep a symmetry: so many without it; 0: nothing is */
    double nearer_in, nearer_off_part;
    bool nearer_moves_middle; /* all that goes is that a centre line lies on a stitch, or between two */
};

/* A chart worked several times upwards: all of it. */
struct redraw_upwards {
    int was;                      /* times */
    double was_in, now_in, off_part;
    int best;                     /* times the new chart comes nearest to that */
    double best_in, best_off_part;
};

/* A number of stitches for the repeat, and how it goes into the piece; or of rows for the chart. */
struct redraw_way {
    int count;
    double finished_in, off_part; /* of the piece's measure; rows: of the chart's old height */
    int64_t repeats, stitches;    /* stitches: side stitches and selvedge too */
    double wide_part;             /* repeat against its true width */
};

struct redraw_ways {
    int n;
    struct redraw_way of[REDRAW_WAYS_MAX]; /* the one taken first, then by what is least wrong */
};

/* Rows (along) or columns where something broke, and the stretch with more runs of colour than new
 * stitches, the same in all of them. */
struct redraw_crowd {
    bool along;
    struct resize_numbers at;
    struct resize_crowd stretch;
};

/* Floats and catches of the band in one piece, as it is planned. */
struct redraw_floats {
    int longest_sts;
    double longest_in;
    int64_t over_limit;
    int64_t catches_repeat, catches_piece;
};

/* Plain rows of the ground that stand at one end of the chart beyond those of its other end, where it is worked
 * once upwards: without them the rows between are symmetrical. Redrawn by count alone; 0: none. */
struct redraw_plain {
    int below_was, below_now, above_was, above_now;
    int motif_was, motif_now; /* the rows between */
};

struct redraw_gauge {
    double per_in, rows_per_in, stitch_width_mm, row_height_mm;
};

struct redraw_mark {
    const char *yarn, *mark;
    bool given; /* false: the project gives none */
};

struct plan_redraw {
    const struct plan_band *old;
    const struct plan_band *band;       /* the new chart; planned whole if `planned`, else its grids alone */
    bool planned;
    const char *why_not;                /* words, if it is not */
    bool has_gauge;                     /* another gauge than the plan's */
    struct redraw_gauge gauge_was, gauge_now;
    bool round;
    double limit_in;                    /* floats up to that are left loose */
    double target_in;                   /* the piece */
    struct redraw_line columns, rows;
    struct redraw_upwards upwards;
    double stretch_part;                /* width for its height against what it was: 0.1, 10 % wider */
    bool stretched;                     /* so much that it is said */
    struct redraw_ways ways, heights;
    struct resize_answer answer;        /* of the whole chart; its lines and axes are of what is between plain rows */
    struct redraw_plain plain;
    int keeps_cols, keeps_rows;         /* one is lost: the nearest counts that keep every symmetry; 0: none, or none
                                           lost */
    int nfaults;                        /* lines and parts; floats besides */
    int nlost;                          /* parts of which nothing is left, holes of one stitch apart */
    bool begins;                        /* the project begins the old chart with another stitch */
    double differs_part, least_part;    /* of the area: from the true drawing; least that whole stitches can */
    const struct redraw_crowd *crowds;  /* those that lack most first */
    int ncrowds;
    struct redraw_floats was, now;      /* now: if planned */
    const struct proof_chart *nearly;   /* the old chart, where it just misses a symmetry; NULL */
    struct redraw_mark marks[GRID_YARNS_MAX]; /* by yarn, for a chart in marks */
    int nmarks;
    const char *picture_why;            /* words: as a picture it would not be read back as it is; NULL: it would */
    bool remedy;                        /* the project has a way round for the old chart: to be taken out */
    bool remade;                        /* the old chart here is as that has it worked */
    int repeats;                        /* the project says another number of them: to be changed to this; 0 */
    bool counted_with_others;           /* the band's count is solved with other bands: this is the band alone */
    int across;                         /* the project says so many across its picture: to be changed; 0 */
};

/* Given: a plan, its charts proof-read (or NULL). Returned: NULL with *why in words where there is nothing to
 * be redrawn. Deterministic. */
const struct plan_redraw *plan_redraw_make(struct work *work, const struct plan *plan,
                                           const struct proofreading *proof,
                                           const struct redraw_asked *asked, const char **why);

#endif
