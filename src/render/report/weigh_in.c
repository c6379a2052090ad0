/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What the balls should weigh on the way.
 */
#include <inttypes.h>
#include <math.h>

#include "report.h"

enum { AT = 2, STEP_AT = 6, STEP_WIDE = 25, FIRST_TO = 40, COLUMN_WIDE = 13, COLUMNS_MAX = 4 };

struct columns {
    int yarn[COLUMNS_MAX];
    int count;
};

static const char *fine_grams(const struct page *page, double grams)
{
    return words_format(page, "%s" WORDS_TIE "g", words_decimal(page, grams, 1));
}

static const char *step_name(const struct page *page, int index)
{
    const struct plan_piece *piece = &page->plan->piece;
    const struct plan_step *step = &piece->steps[index];

    switch (step->kind) {
    case STEP_CAST_ON:
        return "cast-on";
    case STEP_RIB:
        return "rib";
    case STEP_SHAPE:
        return step->to_sts > step->from_sts ? "increases" : "decreases";
    case STEP_BAND:
        return words_format(page, "band %s", step->name);
    case STEP_BIND_OFF:
        return "bind-off";
    case STEP_PLAIN:
        break;
    }
    return *step->name ? words_format(page, "part %s", step->name)
                       : words_format(page, "plain, %s", words_rounds(page, step->rows));
}

static bool swatch_is_counted(const struct page *page)
{
    for (int i = 0; i < page->plan->piece.nyarns; i++)
        if (page->plan->piece.yarns[i].use_m[USE_SWATCH] > 0.0)
            return true;
    return false;
}

const char *report_weighing_name(const struct page *page, const struct plan_weighing *weighing)
{
    const char *name;

    if (weighing->piece > 1 && weighing->step == page->plan->piece.nsteps)
        return words_format(page, "the %s piece", words_ordinal(page, weighing->piece));
    if (weighing->step < 0)
        return swatch_is_counted(page) ? "to begin with, swatch off" : "to begin with";
    if (weighing->step == page->plan->piece.nsteps)
        return "sewing";
    name = step_name(page, weighing->step);
    if (weighing->time == 0)
        return words_clip(page, name, STEP_WIDE);
    return words_format(page, "%s, %s time", words_clip(page, name, STEP_WIDE - 10),
                        words_ordinal(page, weighing->time));
}

/* before: the step of the line above; its number is put once. */
static void put_weighing(const struct page *page, const struct columns *columns,
                         const struct plan_weighing *weighing, int before)
{
    struct text line = page_line(page);
    const char *words = report_weighing_name(page, weighing);

    if (weighing->step >= 0 && weighing->step != before && weighing->step < page->plan->piece.nsteps)
        line_to(&line, AT + 2, words_format(page, "%d", weighing->step + 1));
    line_at(&line, STEP_AT, words);
    for (int i = 0; i < columns->count; i++)
        line_to(&line, FIRST_TO + i * COLUMN_WIDE,
                fine_grams(page, weighing->left_g[columns->yarn[i]]));
    page_put(page, &line);
}

static void put_table(const struct page *page, const struct columns *columns,
                      const struct plan_weighing *list, int count)
{
    struct text line = page_line(page);

    for (int i = 0; i < columns->count; i++)
        line_to(&line, FIRST_TO + i * COLUMN_WIDE,
                words_clip(page, words_yarn(page, columns->yarn[i]), COLUMN_WIDE - 1));
    page_put(page, &line);
    for (int i = 0; i < count; i++)
        put_weighing(page, columns, &list[i], i > 0 ? list[i - 1].step : -1);
}

void report_weigh_table(const struct page *page, const int *yarns, int nyarns,
                        const struct plan_weighing *list, int count)
{
    for (int from = 0; from < nyarns; from += COLUMNS_MAX) {
        struct columns columns = {.count = 0};

        while (columns.count < COLUMNS_MAX && from + columns.count < nyarns) {
            columns.yarn[columns.count] = yarns[from + columns.count];
            columns.count++;
        }
        if (from > 0)
            page_gap(page);
        put_table(page, &columns, list, count);
    }
}

const char *report_weigh_place(const struct page *page, const struct plan_weigh_by *by)
{
    const struct plan_piece *piece = &page->plan->piece;
    bool band = by->step < piece->nsteps && piece->steps[by->step].kind == STEP_BAND;
    const char *name;

    if (by->step == piece->nsteps)
        return "sewing";
    name = step_name(page, by->step);
    if (by->row == 0)
        return words_format(page, "step %d, the %s,", by->step + 1, name);
    if (by->time > 0)
        name = words_format(page, "the %s time of %s", words_ordinal(page, by->time), name);
    return words_format(page, "%s%s %" PRId64 " of %s%s", band ? "chart " : "", words_round(page),
                        by->row, name,
                        band ? "" : words_format(page, " (step %d)", by->step + 1));
}

const char *report_weigh_by(const struct page *page, const struct plan_weigh_by *by)
{
    const struct plan_yarn *yarn = &page->plan->piece.yarns[by->yarn];

    return words_format(page, "%s: before %s%s %s must weigh %s" WORDS_TIE "g or more for the rest.",
                        yarn->name, report_weigh_place(page, by),
                        page->plan->make > 1 ? words_format(page, " in the %s piece",
                                                            words_ordinal(page, by->piece))
                                             : "",
                        by->need_g <= yarn->ball_g ? "the last ball" : "what is left",
                        words_decimal(page, ceil(by->need_g), 0));
}

void report_weigh_in(const struct page *page)
{
    const struct plan *plan = page->plan;
    int yarns[GRID_YARNS_MAX], n = 0;

    for (int i = 0; i < plan->piece.nyarns; i++)
        if (plan->piece.yarns[i].used && plan->piece.yarns[i].has_ball)
            yarns[n++] = i;
    if (n == 0 || plan->nweighings == 0)
        return;
    page_heading(page, "WEIGH AS YOU GO",
                 words_format(page, "what should be left after each step, all balls of a yarn together%s",
                              plan->make > 1 ? "; step by step in the first piece" : ""));
    report_weigh_table(page, yarns, n, plan->weighings, plan->nweighings);
    page_gap(page);
    for (int i = 0; i < plan->nweigh_by; i++)
        page_say(page, AT, report_weigh_by(page, &plan->weigh_by[i]));
}
