/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * One page for the bag: as large as it fits, then shortened until it does. Every part puts itself
 * below the last one and leaves bag->y_mm where it ends.
 */
#include <math.h>

#include "parts.h"
#include "render/report/report.h"
#include "words/say.h"

static const struct sheet_shade BOX_INK = {60, 60, 60};
static const double WIDTH = SHEET_PAGE_WIDTH_MM;
static const double NEEDLE_TO = 132, ROUNDS_TO = 150;
static const double SIZES_MM[] = {3.6, 3.4, 3.2, 3.0, 2.8, 2.6};
static const double PICTURES_MM[] = {50, 50, 47, 44, 40, 36};
enum { SIZES = sizeof SIZES_MM / sizeof *SIZES_MM, PICTURES_MOST = 6, POINTS_MAX = 8, BOXES_MAX = 4 };

/* What the page holds, at one size of type. */
struct bag_room {
    int points, yarns, steps, pictures; /* at most */
    double size_mm, picture_mm;
};

struct bag {
    const struct page *page;
    struct sheet *sheet;
    struct bag_room room;
    double y_mm;
    bool draw; /* pictures too; else only room is left for them */
};

static void put_heading(struct bag *bag, const char *heading, const char *aside)
{
    double size = bag->room.size_mm, head = 1.1 * size, after;
    struct sheet_item *item;

    bag->y_mm += 0.9 * size;
    item = type_put_line(bag->sheet, 0, bag->y_mm, WIDTH, head, SHEET_START, heading);
    item->bold = true;
    after = sheet_words_width_mm(heading, head, true) + 3;
    type_put_line(bag->sheet, after, bag->y_mm + 0.1 * size, WIDTH - after, 0.9 * size, SHEET_START,
                  aside);
    bag->y_mm += 1.25 * head;
    pages_rule(bag->sheet, 0, bag->y_mm, WIDTH);
    bag->y_mm += 0.35 * size;
}

static void put_paragraph(struct bag *bag, double x, double width, const char *words)
{
    bag->y_mm = type_put(bag->sheet, bag->page->work, x, bag->y_mm, width, bag->room.size_mm, words);
}

/* "and 3 more: see the words." */
static void put_more(struct bag *bag, int more, const char *where)
{
    if (more > 0)
        put_paragraph(bag, 0, WIDTH, words_format(bag->page, "and %d more: see %s.", more, where));
}

/* What is left loose; "" where no band has floats. */
static const char *float_words(const struct page *page)
{
    const struct plan_piece *piece = &page->plan->piece;

    for (int i = 0; i < piece->nbands; i++)
        if (piece->bands[i].ncolours > 1)
            return report_limit(page, &piece->bands[i]);
    return "";
}

static void put_title(struct bag *bag)
{
    const struct page *page = bag->page;
    const struct plan *plan = page->plan;
    const char *plain = report_plain_gauge(page);
    double size = 1.8 * bag->room.size_mm;

    type_put_line(bag->sheet, 0, bag->y_mm, WIDTH, size, SHEET_START,
                  *plan->title ? plan->title : plan->project_name)->bold = true;
    bag->y_mm += 1.45 * size;
    put_paragraph(bag, 0, WIDTH, report_how_worked(page));
    put_paragraph(bag, 0, WIDTH, words_format(page, "Gauge: %s.", report_gauge(page)));
    if (*plain)
        put_paragraph(bag, 0, WIDTH, words_format(page, "Plain gauge: %s.", plain));
    put_paragraph(bag, 0, WIDTH, float_words(page));
}

/* What to know before casting on, a child's cautions first; returned: how many. */
static int points_of(const struct page *page, const char *points[POINTS_MAX])
{
    struct report_head head = report_head_pick(page);
    int n = 0;

    for (int i = 0; page->plan->child && i < REPORT_CHILD_CAUTIONS; i++)
        points[n++] = report_child_cautions[i];
    for (int i = 0; i < head.count; i++)
        points[n++] = head.words[i];
    return n;
}

static void put_points(struct bag *bag)
{
    const char *points[POINTS_MAX];
    int npoints = points_of(bag->page, points);
    double size = bag->room.size_mm, in = 1.2 * size;

    if (npoints == 0)
        return;
    put_heading(bag, "Before you cast on", "");
    for (int i = 0; i < npoints && i < bag->room.points; i++) {
        type_put_line(bag->sheet, 0, bag->y_mm, in, size, SHEET_START, "\u2022");
        put_paragraph(bag, in, WIDTH - in, points[i]);
        bag->y_mm += 0.15 * size;
    }
    put_more(bag, npoints - bag->room.points, "the words");
}

/* --- yarns ----------------------------------------------------------------------------- */

/* Those in use. */
static int count_yarns(const struct plan_piece *piece)
{
    int n = 0;

    for (int i = 0; i < piece->nyarns; i++)
        n += piece->yarns[i].used;
    return n;
}

static void put_yarn(struct bag *bag, const struct plan_yarn *yarn)
{
    const struct page *page = bag->page;
    double size = bag->room.size_mm, side = 1.7 * size, y = bag->y_mm + 0.35 * size;
    const char *over = yarn->over < 0 ? "" : words_format(page, ", sewn on over %s",
                                                          words_yarn(page, yarn->over));

    type_put_swatch(bag->sheet, page, yarn, 0, bag->y_mm, side);
    type_put_line(bag->sheet, 12, y, 62, size, SHEET_START,
                  words_format(page, "%s%s", yarn->name, over))->bold = true;
    type_put_line(bag->sheet, 116, y, 40, size, SHEET_END,
                  words_yarn_length(page, yarn->need_m));
    type_put_line(bag->sheet, 148, y, 30, size, SHEET_END, report_balls(page, yarn))->bold = true;
    if (yarn->buy.balls > 0 || yarn->have_enough)
        type_put_line(bag->sheet, WIDTH, y, 40, size, SHEET_END,
                      words_yarn_length(page, yarn->buy.left_m));
    bag->y_mm += side + 0.35 * size;
}

static void put_yarn_heads(struct bag *bag, bool balls)
{
    double size = 0.88 * bag->room.size_mm;

    type_put_line(bag->sheet, 0, bag->y_mm, 60, size, SHEET_START, "with its mark on the chart");
    type_put_line(bag->sheet, 116, bag->y_mm, 50, size, SHEET_END,
                  words_format(bag->page, "to buy, +%s",
                               words_percent(bag->page, bag->page->plan->piece.yarns[0].margin)));
    if (balls) {
        type_put_line(bag->sheet, 148, bag->y_mm, 30, size, SHEET_END, "balls");
        type_put_line(bag->sheet, WIDTH, bag->y_mm, 40, size, SHEET_END, "left after that");
    }
    bag->y_mm += type_leading_mm(size);
}

/* What is to be said of a yarn besides its balls. */
static void put_yarn_words(struct bag *bag)
{
    const struct plan_piece *piece = &bag->page->plan->piece;
    const char *no_ball = report_no_ball(bag->page);

    for (int i = 0, put = 0; i < piece->nyarns && put < bag->room.yarns; i++) {
        if (!piece->yarns[i].used)
            continue;
        put_paragraph(bag, 0, WIDTH, report_have(bag->page, &piece->yarns[i]));
        put_paragraph(bag, 0, WIDTH, report_call(bag->page, &piece->yarns[i]));
        put_paragraph(bag, 0, WIDTH, report_leftover(bag->page, &piece->yarns[i]));
        put_paragraph(bag, 0, WIDTH, report_enough(bag->page, &piece->yarns[i]));
        for (int by = 0; by < bag->page->plan->nweigh_by; by++)
            if (bag->page->plan->weigh_by[by].yarn == i)
                put_paragraph(bag, 0, WIDTH,
                              report_weigh_by(bag->page, &bag->page->plan->weigh_by[by]));
        put++;
    }
    put_paragraph(bag, 0, WIDTH, no_ball);
}

static void put_yarns(struct bag *bag)
{
    const struct plan_piece *piece = &bag->page->plan->piece;
    int put = 0;
    bool balls = false;

    if (piece->nyarns == 0)
        return;
    for (int i = 0; i < piece->nyarns; i++)
        balls = balls || piece->yarns[i].buy.balls > 0;
    put_heading(bag, "What to buy",
                words_format(bag->page, "for %s; each colour in one dye lot",
                             words_pieces(bag->page)));
    if (bag->page->plan->weighed)
        put_paragraph(bag, 0, WIDTH, report_since_weighed);
    put_yarn_heads(bag, balls);
    for (int i = 0; i < piece->nyarns && put < bag->room.yarns; i++)
        if (piece->yarns[i].used) {
            put_yarn(bag, &piece->yarns[i]);
            put++;
        }
    put_more(bag, count_yarns(piece) - bag->room.yarns, "the words");
    put_yarn_words(bag);
}

/* --- steps ----------------------------------------------------------------------------- */

/* With what is sewn on afterwards. */
static int count_steps(const struct page *page)
{
    return page->plan->piece.nsteps + (*report_sewn(page) != '\0');
}

static void put_tick_box(struct sheet *sheet, double x_mm, double y_mm, double size_mm)
{
    struct sheet_item *path = sheet_add_path(sheet, BOX_INK, 0.3);

    path->square_ends = true;
    path->label = "tick box";
    sheet_box(sheet, path, x_mm, y_mm, size_mm, size_mm);
}

/* A box for each piece. Returned: where the words begin. */
static double put_boxes(struct bag *bag, double y)
{
    double side = 0.85 * bag->room.size_mm;
    int make = bag->page->plan->make, boxes = make <= BOXES_MAX ? make : 1;

    for (int i = 0; i < boxes && bag->draw; i++)
        put_tick_box(bag->sheet, i * 1.4 * side, y + 0.15 * side, side);
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

static void put_steps(struct bag *bag)
{
    const struct plan_piece *piece = &bag->page->plan->piece;
    const char *sewn = report_sewn(bag->page);
    int steps = count_steps(bag->page), put = 0;

    if (piece->nsteps == 0)
        return;
    put_heading(bag, "Cast on and shape",
                "stitches on the needle after each step, and its own height");
    put_step_heads(bag);
    for (; put < piece->nsteps && put < bag->room.steps; put++)
        put_step(bag, put + 1, report_step(bag->page, &piece->steps[put]), &piece->steps[put]);
    if (*sewn && put < bag->room.steps)
        put_step(bag, piece->nsteps + 1, sewn, NULL);
    put_more(bag, steps - bag->room.steps, "the words");
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

static void put_pictures(struct bag *bag)
{
    const struct plan *plan = bag->page->plan;
    const double gap = 6;
    int n = bag->room.pictures;
    double width = fmin(90, (WIDTH - (n - 1) * gap) / (n > 0 ? n : 1)), highest = 0, x = 0;

    if (n == 0)
        return;
    put_heading(bag, n == 1 ? "The chart" : "The charts",
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
    put_more(bag, plan->piece.nbands - n, "the pages that follow");
}

/* Lines to write on, where there is room. */
static void put_notes(struct bag *bag)
{
    const double line = 9, smallest = 3 * line;
    double left = SHEET_PAGE_HEIGHT_MM - bag->y_mm;

    if (left < smallest)
        return;
    put_heading(bag, "Your notes", "needle, dye lot, where you are");
    while (bag->y_mm + line <= SHEET_PAGE_HEIGHT_MM) {
        bag->y_mm += line;
        pages_rule(bag->sheet, 0, bag->y_mm, WIDTH);
    }
}

/* --- the page -------------------------------------------------------------------------- */

static struct bag lay_out(const struct page *page, struct bag_room room, bool draw)
{
    struct bag bag = {.page = page, .sheet = sheet_create(page->work), .room = room, .draw = draw};

    put_title(&bag);
    put_points(&bag);
    put_yarns(&bag);
    put_steps(&bag);
    put_pictures(&bag);
    return bag;
}

/* One less of what there is most of. Returned: false where nothing is left to shorten. */
static bool shorten(struct bag_room *room)
{
    if (room->pictures > 3)
        room->pictures--;
    else if (room->steps > 1 && room->steps >= 2 * room->points && room->steps >= room->yarns)
        room->steps--;
    else if (room->yarns > 1 && room->yarns >= 2 * room->points)
        room->yarns--;
    else if (room->points > 1)
        room->points--;
    else if (room->pictures > 0)
        room->pictures--;
    else
        return false;
    return true;
}

static bool fits(const struct page *page, struct bag_room room)
{
    return lay_out(page, room, false).y_mm <= SHEET_PAGE_HEIGHT_MM;
}

static struct bag_room choose_room(const struct page *page)
{
    int nbands = page->plan->piece.nbands;
    const char *points[POINTS_MAX];
    struct bag_room room = {points_of(page, points), count_yarns(&page->plan->piece), count_steps(page),
                            nbands < PICTURES_MOST ? nbands : PICTURES_MOST, 0, 0};

    for (int i = 0; i < SIZES; i++) {
        room.size_mm = SIZES_MM[i];
        room.picture_mm = PICTURES_MM[i];
        if (fits(page, room))
            return room;
    }
    while (!fits(page, room) && shorten(&room))
        ;
    return room;
}

struct sheet *pages_bag(const struct page *page, unsigned *whole)
{
    struct bag_room room = choose_room(page);
    const char *points[POINTS_MAX];
    struct bag bag = lay_out(page, room, true);
    struct sheet *sheet = bag.sheet;

    put_notes(&bag);
    *whole = 0;
    if (room.points >= points_of(page, points))
        *whole |= REPORT_BEFORE;
    if (room.yarns >= count_yarns(&page->plan->piece) && page->plan->nchanges == 0)
        *whole |= REPORT_BUY;
    if (room.steps >= count_steps(page))
        *whole |= REPORT_STEPS;
    sheet->title = *page->plan->title ? page->plan->title : page->plan->project_name;
    sheet->width_mm = SHEET_PAGE_WIDTH_MM;
    sheet->height_mm = SHEET_PAGE_HEIGHT_MM;
    return sheet;
}
