/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What plan_redraw*.c share.
 */
#ifndef STRANDWISE_PLAN_REDRAW_PARTS_H
#define STRANDWISE_PLAN_REDRAW_PARTS_H

#include "redraw.h"

struct redraw_job {
    struct work *work;
    const struct plan *plan;
    const struct redraw_asked *asked;
    const struct plan_band *old;
    struct redraw_direction {
        int was, asked;        /* of the whole chart; asked: 0, as the gauge has it */
        struct rational old_per_in, per_in, exact;
        int least;             /* fewer show no motif */
    } of[2];                   /* by `along`: rows, stitches */
    struct rational target_in;
    int plus_sts;              /* side stitches and, flat, selvedge */
    struct motif motif;        /* of question.old */
    struct grid between;       /* rows of the old chart between the plain ones, where question.old is that */
    struct resize_question question;
    struct plan_redraw *redraw;
    const char *why;           /* it cannot be; NULL: so far it can */
};

const char *redraw_length(const struct redraw_job *job, double inches); /* her unit first */

/* Plain rows of the one end set apart: question.old and the motif. (redraw/redraw_plain.c) */
void redraw_plain_set(struct redraw_job *job);
/* So many rows of the whole chart: those of question.old's part in it. */
struct rational redraw_exact_between(const struct redraw_job *job, struct rational whole);
int redraw_rows_between(const struct redraw_job *job, int nrows);
/* The redraw's answer, for question.old, with the plain rows put back: all numbers those of the whole charts. */
void redraw_plain_back(const struct redraw_job *job);

/* Columns, rows, and how they go into the piece; job->why where they cannot be. (redraw/redraw_size.c) */
void redraw_size(struct redraw_job *job);
/* Once the size is known: job->why where nothing of the motif can be left. (redraw/redraw_size.c) */
void redraw_judge_motif(struct redraw_job *job);

/* After the search: the side stitches of the new chart. (redraw/redraw_sides.c) */
void redraw_sides(const struct redraw_job *job, struct grid *left, struct grid *right);

/* After the search: what is to be said of the chart. (redraw/redraw_chart.c) */
void redraw_look_over(struct redraw_job *job);

#endif
