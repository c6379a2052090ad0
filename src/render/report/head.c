/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Title, gauge, and what to know before casting on.
 */
#include <math.h>

#include "report.h"

static const double CM_PER_IN = 2.54;

static const char *needles(const struct page *page, const struct plan_gauge *gauge)
{
    const char *mm;

    if (!(gauge->needle_mm > 0.0))
        return "";
    mm = words_decimal(page, gauge->needle_mm, 2);
    if (gauge->needle_us && *gauge->needle_us)
        return words_format(page, ", on %s" WORDS_TIE "mm (US" WORDS_TIE "%s) needles", mm, gauge->needle_us);
    return words_format(page, ", on %s" WORDS_TIE "mm needles", mm);
}

static const char *gauge_words(const struct page *page, const struct plan_gauge *gauge)
{
    const char *rows = page->plan->round ? "rounds" : "rows";
    const char *sts_in = words_decimal(page, gauge->per_in, 2);
    const char *rows_in = words_decimal(page, gauge->rows_per_in, 2);
    const char *sts_cm = words_decimal(page, gauge->per_in * 10.0 / CM_PER_IN, 1);
    const char *rows_cm = words_decimal(page, gauge->rows_per_in * 10.0 / CM_PER_IN, 1);

    if (page->plan->cm_first)
        return words_format(page, "%s stitches and %s %s to 10" WORDS_TIE "cm (%s and %s to the inch)", sts_cm,
                            rows_cm, rows, sts_in, rows_in);
    return words_format(page, "%s stitches and %s %s to the inch (%s and %s to 10" WORDS_TIE "cm)", sts_in,
                        rows_in, rows, sts_cm, rows_cm);
}

const char *report_how_worked(const struct page *page)
{
    const char *way = page->plan->round ? page->plan->piece.cast_on.steek_sts > 0
                                              ? "in the round with a steek"
                                              : "in the round"
                                        : "flat, back and forth";

    if (page->plan->make > 1)
        return words_format(page, "Make %d, worked %s.", page->plan->make, way);
    return words_format(page, "Worked %s.", way);
}

const char *report_gauge(const struct page *page)
{
    const struct plan_gauge *gauge = &page->plan->piece.gauge;

    if (gauge->wanted)
        return words_format(page, "%s, stranded: wanted, not yet swatched", gauge_words(page, gauge));
    return words_format(page, "%s, stranded, %s%s", gauge_words(page, gauge),
                        gauge->washed ? "washed" : "not yet washed", needles(page, gauge));
}

const char *report_plain_gauge(const struct page *page)
{
    const struct plan_gauge *plain = &page->plan->piece.plain_gauge;

    return plain->given ? words_format(page, "%s%s", gauge_words(page, plain), needles(page, plain)) : "";
}

void report_title(const struct page *page)
{
    const struct plan *plan = page->plan;
    const char *plain = report_plain_gauge(page);
    const char *title = *plan->title ? plan->title : plan->project_name;
    int length = text_columns(title);

    text_add(page->out, page->style->colour ? "\033[1m" : "");
    text_wrap(page->out, title, 0, 0, page->style->width);
    text_add(page->out, page->style->colour ? "\033[0m\n" : "\n");
    text_repeat(page->out, '=', length < page->style->width ? length : page->style->width);
    page_gap(page);
    page_say(page, 0, report_how_worked(page));
    page_entry(page, "gauge", report_gauge(page));
    if (*plain)
        page_entry(page, "plain gauge", plain);
}

void report_before(const struct page *page)
{
    struct report_head head = report_head_pick(page);

    if (head.count == 0)
        return;
    page_heading(page, "BEFORE YOU CAST ON", NULL);
    for (int i = 0; i < head.count; i++)
        page_item(page, 2, page->style->utf8 ? "\u2022" : "-", head.words[i]);
}
