/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The parts of printed papers, and how words are set on them. Used by pages*.c alone.
 */
#ifndef STRANDWISE_PAGES_PARTS_H
#define STRANDWISE_PAGES_PARTS_H

#include "render/draw/draw.h"
#include "render/sheet/sheet.h"
#include "words/words.h"

/* --- setting words (paper/type.c) ------------------------------------------------------ */

/* From the base line of one line to that of the next. */
double type_leading_mm(double size_mm);
/* A paragraph no wider than that, its first line's top at y; with a NULL sheet only measured.
 * Returned: y of what comes below. */
double type_put(struct sheet *sheet, struct work *work, double x_mm, double y_mm, double width_mm,
                double size_mm, const char *words);
/* One line, its top at y, narrowed where it would be wider than that. */
struct sheet_item *type_put_line(struct sheet *sheet, double x_mm, double y_mm, double room_mm,
                                 double size_mm, enum sheet_anchor anchor, const char *words);

/* A square of a yarn's shade with its mark on the chart in it, half as wide again as high. */
void type_put_swatch(struct sheet *sheet, const struct page *page, const struct plan_yarn *yarn,
                     double x_mm, double y_mm, double high_mm);

/* --- sheets in a row ------------------------------------------------------------------- */

struct pages {
    struct page page; /* for words; its out is for scratch */
    const char *title;
    struct sheet **sheet;
    size_t count, room;
};

struct pages pages_create(struct work *work, const struct plan *plan); /* pages.c */
void pages_add(struct pages *pages, struct sheet *sheet);
/* Make it fill a page where it is smaller, so that nothing joins it there. */
void pages_fill(struct sheet *sheet);
/* A band with the largest stitches with which it stands on one page below words of that height;
 * NULL: with none that are not too small. */
struct sheet *pages_draw_below(const struct page *page, const struct plan_band *band,
                               struct draw_style style, double height_mm);
/* A band on a page of its own, or over several where it must. */
struct sheet *pages_draw(const struct page *page, const struct plan_band *band,
                         struct draw_style style);
#define PAGES_GAP_MM 6.0 /* between words and a chart below them */
/* A line as an empty field to write in. */
void pages_rule(struct sheet *sheet, double x_mm, double y_mm, double x2_mm);

/* The page for the bag; *whole: sections of it that stand there with nothing left out (bits of
 * enum report_leave_out). (paper/bag.c) */
struct sheet *pages_bag(const struct page *page, unsigned *whole);
/* --- a lesson (paper/lesson.c) ---------------------------------------------------------- */

struct lesson {
    struct pages *pages;
    const struct plan_band *band;
    bool answers;
    struct sheet *sheet; /* being filled */
    double y_mm, high_mm; /* how far, of how much */
    double width_mm;      /* of its lines: those of a page upright or on its side */
};
/* What is to be done and the table to fill in, or filled in. */
void lesson_put_head(struct lesson *lesson);
/* Every catch in words, on further sheets as need be. */
void lesson_put_places(struct lesson *lesson);

/* The report as pages of text, those sections left out. (paper/words.c) */
void pages_add_words(struct pages *pages, unsigned leave_out);

#endif
