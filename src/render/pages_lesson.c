/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The lesson sheet: for the class the chart blank, for the teacher the answers and the wrong side.
 */
#include <math.h>

#include "base/arena.h"
#include "base/work.h"
#include "draw.h"
#include "pages.h"
#include "pages_parts.h"

static const double CELL_WITH_PLACES_MM = 4.0; /* smaller, and the places go overleaf instead */

/* The chart, with the places below it where all of them have room there. */
static struct sheet *draw_chart(struct lesson *lesson, struct draw_style style)
{
    const struct page *page = &lesson->pages->page;
    struct sheet *chart = NULL;

    if (lesson->answers)
        chart = pages_draw_below(page, lesson->band, style, lesson->y_mm + lesson_places_mm(lesson),
                                 CELL_WITH_PLACES_MM);
    return chart ? chart : pages_draw_below(page, lesson->band, style, lesson->y_mm,
                                            PAGES_CELL_LEAST_MM);
}

/* The head with the chart below it, or the chart on pages of its own. */
static void add_page(struct pages *pages, const struct plan_band *band, bool answers)
{
    struct lesson lesson = {pages, band, answers, sheet_create(pages->page.work), 0, 0};
    struct draw_style style = {.blank = !answers};
    struct sheet *chart;

    lesson.sheet->title = pages->title;
    lesson_put_head(&lesson);
    chart = draw_chart(&lesson, style);
    lesson.sheet->width_mm = fmax(SHEET_PAGE_WIDTH_MM, chart ? chart->width_mm : 0);
    lesson.sheet->height_mm = lesson.y_mm + (chart ? PAGES_GAP_MM + chart->height_mm : 0);
    if (chart)
        sheet_put(lesson.sheet, chart, 0, lesson.y_mm + PAGES_GAP_MM);
    lesson.y_mm = lesson.sheet->height_mm;
    pages_fill(lesson.sheet);
    lesson.high_mm = lesson.sheet->height_mm;
    pages_add(pages, lesson.sheet);
    if (!chart) {
        pages_add(pages, pages_draw(&pages->page, band, style));
        pages_fill(pages->sheet[pages->count - 1]);
        lesson.y_mm = lesson.high_mm; /* no more words on the page before it */
    }
    if (answers)
        lesson_put_places(&lesson);
}

static void add_wrong_side(struct pages *pages, const struct plan_band *band)
{
    struct draw_style style = {.wrong_side = true};
    struct sheet *sheet = pages_draw(&pages->page, band, style);

    pages_fill(sheet);
    pages_add(pages, sheet);
}

int pages_lesson(struct work *work, const struct plan *plan, const struct plan_band *const *bands,
                 int nbands, struct text *out)
{
    struct pages pages = pages_create(work, plan);

    for (int i = 0; i < nbands; i++)
        add_page(&pages, bands[i], false);
    for (int i = 0; i < nbands; i++)
        add_page(&pages, bands[i], true);
    for (int i = 0; i < nbands; i++)
        add_wrong_side(&pages, bands[i]);
    return sheet_write_book(work, pages.sheet, (int)pages.count,
                            arena_printf(work->arena, "%s: a lesson", pages.title), out);
}
