/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * How things are said: lengths in both units, counts, lists of yarns; and how a page is laid
 * out: headings, paragraphs, lines with columns. Shared by the report and the directions.
 *
 * A words_ function returns text that lives as long as the arena and appends nothing.
 */
#ifndef STRANDWISE_WORDS_H
#define STRANDWISE_WORDS_H

#include "base/text.h"
#include "base/work.h"
#include "plan/plan.h"
#include "say.h"

struct words_style {
    int width;     /* columns, 80 */
    bool colour;   /* ANSI */
    bool utf8;     /* may use characters beyond ASCII */
};

/* What every section of a page is handed. */
struct page {
    struct work *work;
    const struct plan *plan;
    const struct words_style *style;
    struct text *out;
};

/* A blank at which a line is never broken, between a number and what it counts. What puts
 * words on the page (page_..., below) makes a blank of it. */
#define WORDS_TIE "\001"

/* --- words -------------------------------------------------------------------------- */

/* printf into the arena. */
const char *words_format(const struct page *page, const char *format, ...)
    __attribute__((format(printf, 2, 3)));
/* With a tie for every blank. */
const char *words_tie(const struct page *page, const char *words);
/* With a blank for every tie: for words that stand on no page. */
const char *words_untie(const struct page *page, const char *words);
/* Words of the plan's with numbers tied to their units, and 1/2 and the like as one sign where
 * the style has it. */
const char *words_set(const struct page *page, const char *words);

/* "10 1/2 in (26.7 cm)", or the other way about for a project in centimetres. */
const char *words_length(const struct page *page, double inches);
/* Lengths at a finer step, where at the usual one, 1/8 in or 1 mm, two would not subtract as printed. */
enum words_step { WORDS_STEP, WORDS_STEP_HALF, WORDS_STEP_HUNDREDTH };
/* The coarsest at which a less b is printed as a less b is printed; at hundredths nobody sees it. */
enum words_step words_step_apart(const struct page *page, double a_in, double b_in);
const char *words_length_step(const struct page *page, double inches, enum words_step step);
/* "; sewn up 14 5/8 in (37.1 cm), the edge stitches in the seam"; of 0: "". */
const char *words_sewn(const struct page *page, double sewn_in);
/* The float limit, as she gave it: in eighths only where it is some. */
const char *words_limit(const struct page *page);
/* "0.48 in (12.2 mm)": a length too short for a ruler's eighths. */
const char *words_fine_length(const struct page *page, double mm);
/* "8 stitches to the inch (31.5 to 10 cm)" */
const char *words_gauge(const struct page *page, double per_in);
/* "322 yd (294 m)" or the other way about. */
const char *words_yarn_length(const struct page *page, double metres);
/* One unit only, "322 yd": the leading one, or the other. */
const char *words_yarn_length_leading(const struct page *page, double metres);
const char *words_yarn_length_other(const struct page *page, double metres);

/* A column in the leading unit, n at most APPORTION_MAX: out[n] rounded so that they add up to *sum
 * as printed. Nothing is ".", and what is too little to show "<0.1 yd". */
void words_yarn_column(const struct page *page, const double *metres, int n, const char **out,
                       const char **sum);

/* What stands for a use in a bar: a letter of its own, so that it is read without colours. */
char words_use_letter(enum yarn_use use);

const char *words_decimal(const struct page *page, double value, int decimals);
const char *words_grams(const struct page *page, double grams);
const char *words_percent(const struct page *page, double ratio);        /* "2.4 %" */
const char *words_signed_percent(const struct page *page, double ratio); /* "+2.4 %" */
const char *words_grouped(const struct page *page, int64_t value);       /* "12,345" */
const char *words_times(const struct page *page, int64_t n);   /* "once", "twice", "3 times" */
const char *words_ordinal(const struct page *page, int64_t n); /* "5th" */
/* Appended, without a copy: "5th". */
void words_add_ordinal(struct text *text, int64_t n);
const char *words_count(const struct page *page, int64_t n, const char *one, const char *many);
/* "6 repeats of 12"; where the whole round became one chart: "5 repeats of 12 and 9 stitches of part
 * ones", "5 repeats of 12 and 9 plain". */
const char *words_repeats_of(const struct page *page, const struct plan_band *band);
const char *words_range(const struct page *page, int64_t from, int64_t to); /* "3-5", "3" */

/* "about 35 minutes", "about 6.5 hours", hours from an hour and a half on: nobody knows it closer. */
const char *words_hours(const struct page *page, double hours);

/* "round" / "rounds" in the round, "row" / "rows" flat. */
const char *words_round(const struct page *page);
const char *words_rounds(const struct page *page, int64_t n); /* "14 rounds", "1 round" */
/* "round": what a width is called: "10 1/2 in round", "15 1/2 in wide". */
const char *words_across(const struct page *page);
/* "both pieces", "all 3 pieces"; of one: "the piece". */
const char *words_pieces(const struct page *page);

/* A stitch of a row as worked, from 0 at the right: "stitch 9" of each repeat in the round, else
 * "stitch 9 of repeat 2", "side stitch 2 at the right". */
const char *words_row_stitch(const struct page *page, const struct plan_band *band, int column);
/* "5 catches within 1/2 in (1.3 cm) of chart round 17, stitch 9." */
const char *words_crowding(const struct page *page, const struct plan_band *band);
const char *words_yarn(const struct page *page, int yarn); /* its name */
/* "cream", "cream and slate", "cream, slate and coral". */
const char *words_yarns(const struct page *page, const int *yarns, int nyarns);
/* Numbers likewise: "3", "3 and 5", "3, 5 and 9", runs as ranges: "3-5 and 9". */
const char *words_numbers(const struct page *page, const int *numbers, int count);
/* Of numbers from 0. */
const char *words_places(const struct page *page, const int *places, int count);
/* At most `columns` wide; what is longer ends in a point. */
const char *words_clip(const struct page *page, const char *name, int columns);

/* "Round 9: make the 5th stitch of each repeat slate: ...". (recolour.c) */
const char *words_recolour(const struct page *page, const struct plan_band *band,
                           const struct plan_recolour *change);
const char *words_recolour_pair(const struct page *page, const struct plan_band *band);
/* "2 stitches changed, 24 catches fewer in the piece (48 in both pieces)" */
const char *words_recolour_saving(const struct page *page, const struct plan_band *band,
                                  const struct plan_recolour *change);

/* --- page --------------------------------------------------------------------------- */

void page_heading(const struct page *page, const char *heading, const char *aside);
void page_gap(const struct page *page);
/* A paragraph, or one with a mark before it ("-", "3"); following lines hang under the words. */
void page_wrap(const struct page *page, const char *words, int start_column, int indent);
void page_say(const struct page *page, int indent, const char *words);
void page_sayf(const struct page *page, int indent, const char *format, ...)
    __attribute__((format(printf, 3, 4)));
void page_item(const struct page *page, int indent, const char *mark, const char *words);
/* After a bullet of the style's. */
void page_bulletf(const struct page *page, int indent, const char *format, ...)
    __attribute__((format(printf, 3, 4)));
/* "  label      words", words hanging at column 16. */
void page_entry(const struct page *page, const char *label, const char *words);
void page_entryf(const struct page *page, const char *label, const char *format, ...)
    __attribute__((format(printf, 3, 4)));

/* A table: where each column has an edge, the left one (text) or the right one (numbers). Two cells never run
 * into each other: one blank at least between them. An empty cell is "". */
struct page_column {
    int left, right; /* one of them; the other 0 */
};
#define LEFT(column) {column, 0}
#define RIGHT(column) {0, column}
void page_cells(const struct page *page, const struct page_column *columns, const char *const *cells, size_t n);
/* A line of it, cell by cell; those left out at its end are empty. */
#define page_row(page, columns, ...)                                                                        \
    page_cells(page, columns, (const char *const[]){__VA_ARGS__},                                           \
               sizeof((const char *const[]){__VA_ARGS__}) / sizeof(const char *))

#endif
