/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The sections of the report, in order. Each puts its heading and words, or nothing at all
 * when it does not apply.
 */
#ifndef STRANDWISE_REPORT_H
#define STRANDWISE_REPORT_H

#include "words.h"

void report_title(const struct page *page);      /* report_head.c */
void report_before(const struct page *page);     /* report_head.c */
void report_buy(const struct page *page);        /* report_buy.c */
void report_steps(const struct page *page);      /* report_steps.c */
void report_counts(const struct page *page);     /* report_steps.c */
void report_bands(const struct page *page);      /* report_bands.c */
void report_floats(const struct page *page);     /* report_floats.c */
void report_waiting(const struct page *page);    /* report_floats.c */
void report_directions(const struct page *page); /* report.c */
void report_yarn(const struct page *page);       /* report_yarn.c */
void report_duplicates(const struct page *page); /* report_choices.c */
void report_exchanged(const struct page *page);  /* report_choices.c */
void report_tries(const struct page *page);      /* report_tries.c */
void report_cautions(const struct page *page);   /* report_close.c */
void report_basis(const struct page *page);      /* report_close.c */

/* What stands at the head: the few sentences that matter most, worst first. */
enum { HEAD_MAX = 6 };
struct report_head {
    int count;
    const char *words[HEAD_MAX];
    int note[HEAD_MAX]; /* index into plan->notes, or -1; such a note is not said again */
};
struct report_head report_head_pick(const struct page *page); /* report_worries.c */

/* One band's floats, and where they are caught. */
void report_histogram(const struct page *page, const struct plan_band *band);     /* report_catches.c */
void report_catch_places(const struct page *page, const struct plan_band *band);  /* report_catches.c */
void report_crowding(const struct page *page, const struct plan_band *band);      /* report_catches.c */

#endif
