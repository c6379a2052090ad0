/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The plan as a knitter reads it: what to know first, what to buy, then in the order of work.
 */
#include "report.h"

#include "render/render.h"
#include "render/directions/directions.h"

/* Beyond this many the words fill more paper than the rest of the plan. */
enum { DIRECTIONS_ROWS_MAX = 200, DIRECTIONS_COLUMNS_MAX = 400 };

static bool directions_are_long(const struct plan_piece *piece)
{
    int rows = 0, columns = 0;

    for (int i = 0; i < piece->nbands; i++) {
        rows += piece->bands[i].rows;
        if (piece->bands[i].repeat_sts > columns)
            columns = piece->bands[i].repeat_sts;
    }
    return rows > DIRECTIONS_ROWS_MAX || columns > DIRECTIONS_COLUMNS_MAX;
}

void report_directions(const struct page *page)
{
    page_heading(page, page->plan->round ? "THE ROUNDS IN WORDS" : "THE ROWS IN WORDS", NULL);
    if (directions_are_long(&page->plan->piece))
        page_sayf(page, 2,
                  "This chart is too large to be put into words here. For them type: strandwise "
                  "directions %s",
                  page->plan->project_name);
    else
        directions_add(page);
}

void report_sections(const struct page *page, unsigned leave_out)
{
    static void (*const sections[])(const struct page *) = {
        report_title,     report_before,     report_buy,      report_steps,    report_counts,
        report_sizes,     report_together,   report_bands,    report_borders,  report_floats,
        report_recolours, report_waiting,    report_directions, report_yarn,   report_duplicates,
        report_exchanged, report_weigh_in,   report_weighed,  report_tries,    report_ladder,
        report_cautions,  report_basis,
    };

    for (size_t i = 0; i < sizeof sections / sizeof *sections; i++)
        if (!(leave_out >> i & 1))
            sections[i](page);
}

void render_report(struct work *work, const struct plan *plan, const struct words_style *style,
                   struct text *out)
{
    struct page page = {work, plan, style, out};

    report_sections(&page, 0);
}
