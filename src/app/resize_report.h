/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A redrawn chart put into words and marks, by command_resize.c.
 */
#ifndef STRANDWISE_RESIZE_REPORT_H
#define STRANDWISE_RESIZE_REPORT_H

#include "base/text.h"
#include "model/resize.h"
#include "plan/plan.h"

enum { RESIZE_WAYS_MAX = 4 };

/* A number of stitches for the repeat, and how it goes into the piece. */
struct resize_way {
    int ncols;
    int64_t repeats, stitches; /* stitches with side stitches */
    double finished_in, off_part; /* of the piece's measure */
    double wide_part;          /* repeat against its true width, 0.02: 2 % wider */
};

struct resize_job {
    struct work *work;
    const struct plan *plan;
    const struct plan_band *band;
    struct rational old_per_in, old_rows_per_in, per_in, rows_per_in;
    struct rational exact_cols, exact_rows;
    struct rational target_in; /* the piece */
    int ncols, nrows;          /* given, or 0 */
    struct resize_way ways[RESIZE_WAYS_MAX]; /* the one taken first */
    int nways;
    struct resize_question question;
    const struct resize_answer *answer;
    struct grid left, right;   /* side stitches redrawn */
    const char *mark[GRID_YARNS_MAX];
    bool mark_chosen[GRID_YARNS_MAX]; /* by us: the project gives none */
};

/* What came out, for the window. */
void resize_report(const struct resize_job *job, int width, struct text *out);
/* The new chart as a file. */
void resize_write_chart(const struct resize_job *job, struct text *out);

#endif
