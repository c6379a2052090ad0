/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Strand a colour or sew it on: row by row, and in a word at the head.
 */
#include <math.h>

#include "base/apportion.h"
#include "base/arena.h"
#include "report.h"

/* --- row by row ---------------------------------------------------------------- */

/* Right edges; of each pair the second is so much further right. */
enum {
    CHOICE_AT = 4,
    STITCHES_TO = 19,
    YARN_TO = 30,
    YARN_FURTHER = 10,
    CATCHES_TO = 48,
    THREE_TO = 61,
    TIME_TO = 74,
    FURTHER = 5
};

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
    const struct {
        int to, further;
        const char *words;
    } pair[] = {{YARN_TO, YARN_FURTHER, "all yarn"},
                {CATCHES_TO, FURTHER, "catches"},
                {THREE_TO, FURTHER, "3 colours"},
                {TIME_TO, FURTHER, lines->minutes ? "minutes" : "hours"}};
    struct text above = page_line(page), below = page_line(page);

    line_at(&below, CHOICE_AT, words_round(page));
    line_to(&below, STITCHES_TO, "stitches");
    for (size_t i = 0; i < sizeof pair / sizeof *pair; i++) {
        line_to(&above, pair[i].to + pair[i].further, pair[i].words);
        line_to(&below, pair[i].to, "strand");
        line_to(&below, pair[i].to + pair[i].further, "sewn");
    }
    page_gap(page);
    page_put(page, &above);
    page_put(page, &below);
}

static void put_line(const struct page *page, const struct lines *lines, int i,
                     const struct way_column way[2])
{
    const struct plan_duplicate *choice = lines->choice;
    const struct plan_duplicate_group *group = &choice->groups[lines->from + i];
    struct text line = page_line(page);
    bool apart = lines->from + i == choice->ngroups;

    line_at(&line, CHOICE_AT,
            apart ? "waits, tails" : words_range(page, group->first_row + 1, group->last_row + 1));
    if (!apart)
        line_to(&line, STITCHES_TO, words_grouped(page, group->stitches));
    for (int sewn = 0; sewn < 2; sewn++)
        line_to(&line, YARN_TO + sewn * YARN_FURTHER, way[sewn].yarn[i]);
    for (int sewn = 0; sewn < 2 && !apart; sewn++)
        line_to(&line, CATCHES_TO + sewn * FURTHER,
                words_grouped(page, way_of(choice, lines->from + i, sewn)->catches));
    for (int sewn = 0; sewn < 2 && !apart; sewn++)
        line_to(&line, THREE_TO + sewn * FURTHER,
                words_grouped(page, way_of(choice, lines->from + i, sewn)->rows_three));
    for (int sewn = 0; sewn < 2; sewn++)
        line_to(&line, TIME_TO + sewn * FURTHER, way[sewn].time[i]);
    page_put(page, &line);
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
