/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The page for the bag, second half: the steps with boxes to tick, and small pictures of the
 * charts.
 */
#include <math.h>

#include "render/draw/draw.h"
#include "parts.h"
#include "render/report/report.h"
#include "words/say.h"

static const double WIDTH = SHEET_PAGE_WIDTH_MM;
static const double NEEDLE_TO = 132, ROUNDS_TO = 150;
enum { BOXES_MAX = 4 };

int bag_steps(const struct page *page)
{
    return page->plan->piece.nsteps + (*report_sewn(page) != '\0');
}

/* A box for each piece. Returned: where the words begin. */
static double put_boxes(struct bag *bag, double y)
{
    double side = 0.85 * bag->room.size_mm;
    int make = bag->page->plan->make, boxes = make <= BOXES_MAX ? make : 1;

    for (int i = 0; i < boxes && bag->draw; i++)
        pages_tick_box(bag->sheet, i * 1.4 * side, y + 0.15 * side, side);
    return boxes * 1.4 * side + 0.4 * side;
}

static void put_figures(struct bag *bag, const struct plan_step *step, double y)
{
    const struct page *page = bag->page;
    double size = bag->room.size_mm;

    type_put_line(bag->sheet, NEEDLE_TO, y, 16, size, SHEET_END, words_grouped(page, step->on_needle))
        ->bold = true;
    if (step->rows > 0)
        type_put_line(bag->sheet, ROUNDS_TO, y, 17, size, SHEET_END,
                      words_range(page, step->first_row, step->first_row + step->rows - 1));
    if (step->rows > 1)
        type_put_line(bag->sheet, WIDTH, y, 38, size, SHEET_END, words_length(page, step->height_in));
}

static void put_step(struct bag *bag, int number, const char *words, const struct plan_step *step)
{
    double size = bag->room.size_mm, y = bag->y_mm;
    double number_to = put_boxes(bag, y) + 1.4 * size, at = number_to + 0.6 * size;

    type_put_line(bag->sheet, number_to, y, 1.4 * size, size, SHEET_END,
                  words_format(bag->page, "%d", number))->bold = true;
    bag->y_mm = type_put(bag->sheet, bag->page->work, at, y, NEEDLE_TO - 15 - at, size, words);
    if (step)
        put_figures(bag, step, y);
    bag->y_mm += 0.25 * size;
}

static void put_step_heads(struct bag *bag)
{
    double size = 0.88 * bag->room.size_mm;

    type_put_line(bag->sheet, NEEDLE_TO, bag->y_mm, 20, size, SHEET_END, "needle");
    type_put_line(bag->sheet, ROUNDS_TO, bag->y_mm, 17, size, SHEET_END,
                  say_rounds(bag->page->plan->round)->many);
    type_put_line(bag->sheet, WIDTH, bag->y_mm, 38, size, SHEET_END, "height");
    bag->y_mm += type_leading_mm(size);
}

void bag_put_steps(struct bag *bag)
{
    const struct plan_piece *piece = &bag->page->plan->piece;
    const char *sewn = report_sewn(bag->page);
    int steps = bag_steps(bag->page), put = 0;

    if (piece->nsteps == 0)
        return;
    bag_heading(bag, "Cast on and shape",
                "stitches on the needle after each step, and its own height");
    put_step_heads(bag);
    for (; put < piece->nsteps && put < bag->room.steps; put++)
        put_step(bag, put + 1, report_step(bag->page, &piece->steps[put]), &piece->steps[put]);
    if (*sewn && put < bag->room.steps)
        put_step(bag, piece->nsteps + 1, sewn, NULL);
    bag_more(bag, steps - bag->room.steps, "the words");
}

/* --- pictures -------------------------------------------------------------------------- */

/* The name above, the repeats below, both in two short lines. */
static void put_caption(struct bag *bag, const struct plan_band *band, double x, double y, double width)
{
    const struct page *page = bag->page;
    double size = 0.88 * bag->room.size_mm;
    const char *up = band->upwards > 1 ? words_format(page, ", %s upwards",
                                                      words_times(page, band->upwards)) : "";

    type_put_line(bag->sheet, x, y, width, size, SHEET_START,
                  words_format(page, "%s, %s", band->name, words_repeats_of(page, band)))->bold = true;
    type_put_line(bag->sheet, x, y + type_leading_mm(size), width, size, SHEET_START,
                  words_format(page, "%s in the chart%s", words_rounds(page, band->rows), up));
}

static bool has_sides(const struct plan *plan)
{
    for (int i = 0; i < plan->piece.nbands; i++)
        if (plan->piece.bands[i].side_sts > 0)
            return true;
    return false;
}

void bag_put_pictures(struct bag *bag)
{
    const struct plan *plan = bag->page->plan;
    const double gap = 6;
    int n = bag->room.pictures;
    double width = fmin(90, (WIDTH - (n - 1) * gap) / (n > 0 ? n : 1)), highest = 0, x = 0;

    if (n == 0)
        return;
    bag_heading(bag, n == 1 ? "The chart" : "The charts",
                words_format(bag->page, "one repeat%s from the right side; large on the pages that "
                                        "follow",
                             has_sides(plan) ? " with its side stitches," : ""));
    for (int i = 0; i < n; i++)
        highest = fmax(highest, draw_picture_height_mm(plan, &plan->piece.bands[i], width,
                                                       bag->room.picture_mm));
    for (int i = 0; i < n; i++, x += width + gap) {
        const struct plan_band *band = &plan->piece.bands[i];

        put_caption(bag, band, x, bag->y_mm, width);
        if (bag->draw)
            sheet_put(bag->sheet,
                      draw_picture(bag->page->work, plan, band, width, bag->room.picture_mm), x,
                      bag->y_mm + 2.6 * bag->room.size_mm);
    }
    bag->y_mm += 2.6 * bag->room.size_mm + highest + 1;
    bag_more(bag, plan->piece.nbands - n, "the pages that follow");
}

void bag_put_notes(struct bag *bag)
{
    const double line = 9, smallest = 3 * line;
    double left = SHEET_PAGE_HEIGHT_MM - bag->y_mm;

    if (left < smallest)
        return;
    bag_heading(bag, "Your notes", "needle, dye lot, where you are");
    while (bag->y_mm + line <= SHEET_PAGE_HEIGHT_MM) {
        bag->y_mm += line;
        pages_rule(bag->sheet, 0, bag->y_mm, WIDTH);
    }
}
