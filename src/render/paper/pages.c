/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "pages.h"

#include <math.h>

#include "base/arena.h"
#include "base/work.h"
#include "render/draw/draw.h"
#include "parts.h"
#include "render/report/report.h"

static const struct words_style PRINTED = {.width = 80, .utf8 = true};
static const double CELL_LARGEST_MM = 8.0, CELL_STEP_MM = 0.5; /* to be read at arm's length */
static const double CELL_LEAST_MM = 3.5; /* smaller stitches are hard to mark with a pencil */
static const struct sheet_shade INK = {60, 60, 60};

struct pages pages_create(struct work *work, const struct plan *plan)
{
    struct pages pages = {.page = {work, plan, &PRINTED, NULL}};

    pages.title = *plan->title ? plan->title : plan->project_name;
    return pages;
}

void pages_add(struct pages *pages, struct sheet *sheet)
{
    if (pages->count == pages->room) {
        pages->room = pages->room ? 2 * pages->room : 32;
        pages->sheet = arena_grow(pages->page.work->arena, pages->sheet, pages->count, pages->room,
                                  sizeof(struct sheet *));
    }
    pages->sheet[pages->count++] = sheet;
}

void pages_fill(struct sheet *sheet)
{
    enum sheet_way way = sheet_way_on_page(sheet->width_mm, sheet->height_mm);

    if (way != PAGE_NONE) {
        sheet->width_mm = way == PAGE_UPRIGHT ? SHEET_PAGE_WIDTH_MM : SHEET_LONG_WIDTH_MM;
        sheet->height_mm = way == PAGE_UPRIGHT ? SHEET_PAGE_HEIGHT_MM : SHEET_LONG_HEIGHT_MM;
    }
}

void pages_rule(struct sheet *sheet, double x_mm, double y_mm, double x2_mm)
{
    struct sheet_item *path = sheet_add_path(sheet, INK, 0.25);

    path->square_ends = true;
    sheet_move(sheet, path, x_mm, y_mm);
    sheet_line(sheet, path, x2_mm, y_mm);
}

/* Words of that height over the chart: do both stand on one page? */
static bool fits_below(const struct sheet *chart, double height_mm)
{
    if (height_mm <= 0)
        return sheet_way_on_page(chart->width_mm, chart->height_mm) != PAGE_NONE;
    return sheet_way_on_page(fmax(chart->width_mm, SHEET_PAGE_WIDTH_MM),
                          height_mm + PAGES_GAP_MM + chart->height_mm) != PAGE_NONE;
}

struct sheet *pages_draw_below(const struct page *page, const struct plan_band *band,
                               struct draw_style style, double height_mm)
{
    struct sheet *best = NULL;

    for (style.cell_mm = CELL_LEAST_MM; style.cell_mm <= CELL_LARGEST_MM; style.cell_mm += CELL_STEP_MM) {
        struct sheet *chart = draw_band(page->work, page->plan, band, &style);

        if (!fits_below(chart, height_mm))
            break;
        best = chart;
    }
    return best;
}

struct sheet *pages_draw(const struct page *page, const struct plan_band *band,
                         struct draw_style style)
{
    struct sheet *chart = pages_draw_below(page, band, style, 0);

    return chart ? chart : draw_band(page->work, page->plan, band, &style);
}

static void add_charts(struct pages *pages, bool wrong_side)
{
    const struct plan *plan = pages->page.plan;
    struct draw_style style = {.wrong_side = wrong_side};

    for (int i = 0; i < plan->piece.nbands; i++)
        pages_add(pages, pages_draw(&pages->page, &plan->piece.bands[i], style));
}

struct sheets pages_plan(struct work *work, const struct plan *plan)
{
    struct pages pages = pages_create(work, plan);
    unsigned whole = 0;

    pages_add(&pages, pages_bag(&pages.page, &whole));
    add_charts(&pages, false);
    add_charts(&pages, true);
    pages_add_words(&pages, REPORT_TITLE | whole);
    return (struct sheets){pages.sheet, (int)pages.count, pages.title, true};
}
