/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The lesson sheet: for the class the chart blank, for the teacher the answers and the wrong side.
 */
#include <math.h>

#include "base/arena.h"
#include "base/work.h"
#include "render/draw/draw.h"
#include "pages.h"
#include "parts.h"


/* The chart, with the places below it where all of them have room there. */
static struct sheet *draw_chart(struct lesson *lesson, struct draw_style style)
{
    const struct page *page = &lesson->pages->page;
    struct sheet *chart = NULL;

    if (lesson->answers)
        chart = pages_draw_below(page, lesson->band, style, lesson->y_mm + lesson_places_mm(lesson),
                                 PAGES_CELL_LEAST_MM);
    return chart ? chart : pages_draw_below(page, lesson->band, style, lesson->y_mm,
                                            PAGES_CELL_LEAST_MM);
}

/* Words in lines of that width, and the chart that has room below them; NULL: none has. */
static struct sheet *lay_out(struct lesson *lesson, double width_mm)
{
    struct pages *pages = lesson->pages;

    lesson->width_mm = width_mm;
    lesson->y_mm = 0;
    lesson->sheet = sheet_create(pages->page.work);
    lesson->sheet->title = pages->title;
    lesson_put_head(lesson);
    return draw_chart(lesson, (struct draw_style){.show = lesson->answers ? DRAW_CATCHES : DRAW_BLANK});
}

static bool is_upright(const struct lesson *lesson, const struct sheet *chart)
{
    return chart->width_mm <= SHEET_PAGE_WIDTH_MM &&
           lesson->y_mm + PAGES_GAP_MM + chart->height_mm <= SHEET_PAGE_HEIGHT_MM;
}

/* The head with the chart below it, or the chart on pages of its own. */
static void add_page(struct pages *pages, const struct plan_band *band, bool answers)
{
    struct lesson lesson = {.pages = pages, .band = band, .answers = answers};
    struct draw_style style = {.show = answers ? DRAW_CATCHES : DRAW_BLANK};
    struct sheet *chart = lay_out(&lesson, SHEET_PAGE_WIDTH_MM);

    if (chart && !is_upright(&lesson, chart))
        chart = lay_out(&lesson, SHEET_LONG_WIDTH_MM);
    lesson.sheet->width_mm = fmax(lesson.width_mm, chart ? chart->width_mm : 0);
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

struct sheets pages_lesson(struct work *work, const struct plan *plan, const struct plan_band *const *bands,
                           int nbands)
{
    struct pages pages = pages_create(work, plan);

    for (int i = 0; i < nbands; i++)
        add_page(&pages, bands[i], false);
    for (int i = 0; i < nbands; i++)
        add_page(&pages, bands[i], true);
    for (int i = 0; i < nbands; i++)
        add_wrong_side(&pages, bands[i]);
    return (struct sheets){pages.sheet, (int)pages.count, arena_printf(work->arena, "%s: a lesson", pages.title),
                           true};
}
