/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What plan_redraw*.c share.
 */
#ifndef STRANDWISE_PLAN_REDRAW_PARTS_H
#define STRANDWISE_PLAN_REDRAW_PARTS_H

#include "plan_redraw.h"

struct redraw_job {
    struct work *work;
    const struct plan *plan;
    const struct redraw_asked *asked;
    const struct plan_band *old;
    struct rational old_per_in, old_rows_per_in, per_in, rows_per_in;
    struct rational exact_cols, exact_rows, target_in;
    int plus_sts;              /* side stitches and, flat, selvedge */
    struct motif motif;
    struct resize_question question;
    struct plan_redraw *redraw;
    const char *why;           /* it cannot be; NULL: so far it can */
};

const char *redraw_length(const struct redraw_job *job, double inches); /* her unit first */

/* Columns, rows, and how they go into the piece; job->why where they cannot be. (plan_redraw_size.c) */
void redraw_size(struct redraw_job *job);
/* Once the size is known: job->why where nothing of the motif can be left. (plan_redraw_size.c) */
void redraw_judge_motif(struct redraw_job *job);

/* Runs of colour in a row (along) or column; ring: the last may go on with the first. (plan_redraw_size.c) */
int redraw_runs(const struct grid *grid, bool along, bool ring, int number);

/* After the search: what is to be said of the chart. (plan_redraw_chart.c) */
void redraw_look_over(struct redraw_job *job);

#endif
