/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Strand a colour or sew it on: row by row, and in a word at the head.
 */
#include <math.h>

#include "base/apportion.h"
#include "base/arena.h"
#include "report.h"

/* --- row by row ---------------------------------------------------------------- */

/* Rows, stitches; stranded and sewn: all yarn, catches, three colours, time. */
static const struct page_column columns[] = {LEFT(4),   RIGHT(19), RIGHT(30), RIGHT(40), RIGHT(48),
                                             RIGHT(53), RIGHT(61), RIGHT(66), RIGHT(74), RIGHT(79)};

/* Lines of the table that are rounded together: groups, and last what belongs to no row. */
struct lines {
    const struct plan_duplicate *choice;
    int from, n;
    bool minutes;
};
struct way_column {
    const char *yarn[APPORTION_MAX];
    const char *time[APPORTION_MAX];
};

static const struct plan_duplicate_way *way_of(const struct plan_duplicate *choice, int i, bool sewn)
{
    if (i == choice->ngroups)
        return sewn ? &choice->sewn_apart : &choice->stranded_apart;
    return sewn ? &choice->groups[i].sewn : &choice->groups[i].stranded;
}

static void fill_column(const struct page *page, const struct lines *lines, bool sewn,
                        struct way_column *column)
{
    const double minute_h = 1.0 / 60.0, tenth_h = 0.1;
    double metres[APPORTION_MAX], hours[APPORTION_MAX];
    int64_t steps[APPORTION_MAX];
    const char *sum;

    for (int i = 0; i < lines->n; i++) {
        metres[i] = way_of(lines->choice, lines->from + i, sewn)->all_m;
        hours[i] = way_of(lines->choice, lines->from + i, sewn)->hours;
    }
    words_yarn_column(page, metres, lines->n, column->yarn, &sum);
    apportion(hours, lines->n, lines->minutes ? minute_h : tenth_h, 1.0, steps);
    for (int i = 0; i < lines->n; i++)
        column->time[i] = !(hours[i] > 0.0) ? "."
                          : lines->minutes  ? words_grouped(page, steps[i])
                                            : words_decimal(page, (double)steps[i] * tenth_h, 1);
}

static void put_heads(const struct page *page, const struct lines *lines)
{
    page_gap(page);
    page_row(page, columns, "", "", "", "all yarn", "", "catches", "", "3 colours", "",
             lines->minutes ? "minutes" : "hours");
    page_row(page, columns, words_round(page), "stitches", "strand", "sewn", "strand", "sewn", "strand", "sewn",
             "strand", "sewn");
}

static void put_line(const struct page *page, const struct lines *lines, int i,
                     const struct way_column way[2])
{
    const struct plan_duplicate *choice = lines->choice;
    const struct plan_duplicate_group *group = &choice->groups[lines->from + i];

    if (lines->from + i == choice->ngroups)
        page_row(page, columns, "waits, tails", "", way[0].yarn[i], way[1].yarn[i], "", "", "", "",
                 way[0].time[i], way[1].time[i]);
    else
        page_row(page, columns, words_range(page, group->first_row + 1, group->last_row + 1),
                 words_grouped(page, group->stitches), way[0].yarn[i], way[1].yarn[i],
                 words_grouped(page, group->stranded.catches), words_grouped(page, group->sewn.catches),
                 words_grouped(page, group->stranded.rows_three), words_grouped(page, group->sewn.rows_three),
                 way[0].time[i], way[1].time[i]);
}

void report_sewing_rows(const struct page *page, const struct plan_duplicate *choice)
{
    const double hours_from = 9.95;
    struct lines lines = {.choice = choice,
                          .minutes = choice->stranded.hours < hours_from &&
                                     choice->sewn.hours < hours_from};
    int n = choice->ngroups + 1;

    if (choice->ngroups < 2)
        return;
    put_heads(page, &lines);
    for (; lines.from < n; lines.from += lines.n) {
        struct way_column way[2];

        lines.n = n - lines.from < APPORTION_MAX ? n - lines.from : APPORTION_MAX;
        for (int sewn = 0; sewn < 2; sewn++)
            fill_column(page, &lines, sewn, &way[sewn]);
        for (int i = 0; i < lines.n; i++)
            put_line(page, &lines, i, way);
    }
}

/* --- at the head ---------------------------------------------------------------- */

static bool has_figures(const struct plan *plan, int yarn)
{
    for (int i = 0; i < plan->nduplicates; i++)
        if (plan->duplicates[i].yarn == yarn && plan->duplicates[i].notable)
            return true;
    return false;
}

static bool at_head(const struct plan_duplicate *sum, enum duplicate_verdict verdict)
{
    return sum->hinted && sum->saved_rows_three > 0 && sum->verdict == verdict;
}

/* "rose about 5.6 hours, fog about 2 hours" */
static const char *slower_words(const struct page *page, int *count)
{
    const struct plan *plan = page->plan;
    struct text words = text_create(page->work->arena);

    *count = 0;
    for (int i = 0; i < plan->nduplicate_yarns; i++)
        if (at_head(&plan->duplicate_yarns[i], DUPLICATE_STRAND)) {
            text_addf(&words, "%s%s %s", *count ? ", " : "",
                      words_yarn(page, plan->duplicate_yarns[i].yarn),
                      words_hours(page, fabs(plan->duplicate_yarns[i].saved_hours)));
            ++*count;
        }
    return words.length > 0 ? words.bytes : "";
}

const char *report_sewing(const struct page *page)
{
    const struct plan *plan = page->plan;
    struct text words = text_create(page->work->arena);
    int slower;
    const char *times = slower_words(page, &slower);

    for (int i = 0; i < plan->nduplicate_yarns; i++) {
        const struct plan_duplicate *sum = &plan->duplicate_yarns[i];
        const char *yarn = words_yarn(page, sum->yarn), *time = words_hours(page, fabs(sum->saved_hours));
        const char *below = has_figures(plan, sum->yarn) ? " (figures below)" : "";

        if (at_head(sum, DUPLICATE_SEW))
            text_addf(&words, " Sewing %s on afterwards would take %s less: sew it on%s.", yarn, time, below);
        else if (at_head(sum, DUPLICATE_EITHER))
            text_addf(&words, " Sewing %s on afterwards would take about as long: as you like%s.", yarn,
                      below);
        else if (at_head(sum, DUPLICATE_STRAND) && slower == 1)
            text_addf(&words, " Sewing %s on afterwards would take %s longer: strand it%s.", yarn, time,
                      below);
    }
    if (slower > 1)
        text_addf(&words, " Sewing one of them on afterwards would take longer, %s: strand them.", times);
    return words.length > 0 ? words.bytes : "";
}

const char *report_sewing_long(const struct page *page)
{
    const struct plan *plan = page->plan;
    int yarns[GRID_YARNS_MAX], n = 0;

    for (int i = 0; i < plan->nduplicate_yarns; i++) {
        const struct plan_duplicate *sum = &plan->duplicate_yarns[i];

        if (sum->hinted && sum->saved_catches > 0 && sum->verdict != DUPLICATE_STRAND)
            yarns[n++] = sum->yarn;
    }
    return n > 0 ? words_yarns(page, yarns, n) : "";
}
