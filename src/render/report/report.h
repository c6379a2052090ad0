/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The sections of the report, in order. Each puts its heading and words, or nothing at all
 * when it does not apply.
 */
#ifndef STRANDWISE_REPORT_H
#define STRANDWISE_REPORT_H

#include "words/words.h"

void report_title(const struct page *page);
void report_buy(const struct page *page);
void report_steps(const struct page *page);
void report_counts(const struct page *page);     /* report/steps.c */
void report_sizes(const struct page *page);
void report_together(const struct page *page);   /* report/bands.c */
void report_bands(const struct page *page);
void report_borders(const struct page *page);    /* report/wear.c */
void report_floats(const struct page *page);
void report_recolours(const struct page *page);  /* report/recolour.c */
void report_waiting(const struct page *page);    /* report/floats.c */
void report_yarn(const struct page *page);
void report_duplicates(const struct page *page); /* report/choices.c */
void report_exchanged(const struct page *page);  /* report/choices.c */
void report_weigh_in(const struct page *page);   /* report/weighed.c */
void report_weighed(const struct page *page);
void report_tries(const struct page *page);
void report_ladder(const struct page *page);     /* report/tries.c */

/* Within report_bands(): centre, start of the round, needles; will it go over heel, head or hand. (report/wear.c) */
void report_centre(const struct page *page, const struct plan_band *band);
void report_stretch(const struct page *page, const struct plan_band *band);
/* "; passes 12 in", or what would, of the tightest band; "" where nothing must pass. (report/wear.c) */
const char *report_passes(const struct page *page, const struct plan_piece *piece);

/* What stands at the head: the few sentences that matter most, worst first. */
enum { HEAD_MAX = 6 };
struct report_head {
    int count;
    const char *words[HEAD_MAX];
    int note[HEAD_MAX]; /* index into plan->notes, or -1; such a note is not said again */
};
struct report_head report_head_pick(const struct page *page); /* report/worries.c */

/* All sections in order, but those of these bits. */
enum report_leave_out {
    REPORT_TITLE = 1 << 0,
    REPORT_BEFORE = 1 << 1,
    REPORT_BUY = 1 << 2,
    REPORT_STEPS = 1 << 3
};
void report_sections(const struct page *page, unsigned leave_out); /* report.c */

/* --- sentences of the sections, for other outputs; "" where one does not apply ----------- */

enum { REPORT_CHILD_CAUTIONS = 2 };
extern const char *const report_child_cautions[REPORT_CHILD_CAUTIONS]; /* for a child's things */
const char *report_how_worked(const struct page *page);  /* "Make 2, worked in the round." */
const char *report_gauge(const struct page *page);       /* with the needles */
const char *report_plain_gauge(const struct page *page);
/* "Weigh it before ...": see report/weighed.c. */
const char *report_weigh_by(const struct page *page, const struct plan_weigh_by *by);
extern const char report_since_weighed[]; /* to be said of what to buy where plan->weighed */
const char *report_enough(const struct page *page, const struct plan_yarn *yarn);
/* "0.481 in (12.2 mm) of yarn", or by yarn: "0.534 in (13.6 mm) in oat, 0.638 in (16.2 mm) in plum". */
const char *report_stitch(const struct page *page);
/* "93", "over 99.9": times in 100. */
const char *report_chance(const struct page *page, double chance);
/* "18 to 20 m", nine times in ten. */
const char *report_range(const struct page *page, const struct plan_yarn *yarn);
const char *report_balls(const struct page *page, const struct plan_yarn *yarn); /* "2 x 50 g" */
const char *report_call(const struct page *page, const struct plan_yarn *yarn);
const char *report_have(const struct page *page, const struct plan_yarn *yarn); /* in hand */
/* "7,9": repeats of each band. (report/tries.c) */
const char *report_repeats(const struct page *page, const struct plan_piece *piece);
const char *report_leftover(const struct page *page, const struct plan_yarn *yarn);
/* Whether the colours that make three in a row are better sewn on; with a blank before it. */
const char *report_sewing(const struct page *page); /* report/choices.c */
/* The colours that may be sewn on to be rid of long floats: "coral and slate". */
const char *report_sewing_long(const struct page *page); /* report/choices.c */
const char *report_no_ball(const struct page *page);
const char *report_limit(const struct page *page, const struct plan_band *band); /* of its floats */
const char *report_step(const struct page *page, const struct plan_step *step);
const char *report_sewn(const struct page *page); /* what is sewn on after the last step */

/* marks[0 .. nmarks - 1] of one row: "slate behind 5 and 8; coral behind 2", or spelled out:
 * "slate behind stitches 5 and 8". */
const char *report_row_catches(const struct page *page, const struct catch_mark *marks,
                               int64_t nmarks, bool spelled);
/* The repeat's catches that stand in some repeat: where it is worked once across, not those of a
 * float that has an end at the edge. Only mark and count are filled. */
struct catch_map report_standing_catches(const struct page *page, const struct plan_band *band);
int64_t report_row_end(const struct catch_map *map, int64_t i); /* first mark of the next row */
int report_rows_caught(const struct catch_map *map);            /* rows with a catch */

/* One band's floats, and where they are caught. */
void report_histogram(const struct page *page, const struct plan_band *band);     /* report/catches.c */
void report_catch_places(const struct page *page, const struct plan_band *band);  /* report/catches.c */
void report_crowding(const struct page *page, const struct plan_band *band);      /* report/catches.c */

#endif
