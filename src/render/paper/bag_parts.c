/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What stands on the page for the bag. Every part puts itself below the last one and leaves
 * bag->y_mm where it ends.
 */
#include "parts.h"
#include "render/report/report.h"

static const double WIDTH = SHEET_PAGE_WIDTH_MM;

void bag_heading(struct bag *bag, const char *heading, const char *aside)
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

void bag_more(struct bag *bag, int more, const char *where)
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

void bag_put_title(struct bag *bag)
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

int bag_points(const struct page *page, const char *points[BAG_POINTS_MAX])
{
    struct report_head head = report_head_pick(page);
    int n = 0;

    for (int i = 0; page->plan->child && i < REPORT_CHILD_CAUTIONS; i++)
        points[n++] = report_child_cautions[i];
    for (int i = 0; i < head.count; i++)
        points[n++] = head.words[i];
    return n;
}

void bag_put_points(struct bag *bag)
{
    const char *points[BAG_POINTS_MAX];
    int npoints = bag_points(bag->page, points);
    double size = bag->room.size_mm, in = 1.2 * size;

    if (npoints == 0)
        return;
    bag_heading(bag, "Before you cast on", "");
    for (int i = 0; i < npoints && i < bag->room.points; i++) {
        type_put_line(bag->sheet, 0, bag->y_mm, in, size, SHEET_START, "\u2022");
        put_paragraph(bag, in, WIDTH - in, points[i]);
        bag->y_mm += 0.15 * size;
    }
    bag_more(bag, npoints - bag->room.points, "the words");
}

/* --- yarns ----------------------------------------------------------------------------- */

int bag_yarns(const struct plan_piece *piece)
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

void bag_put_yarns(struct bag *bag)
{
    const struct plan_piece *piece = &bag->page->plan->piece;
    int put = 0;
    bool balls = false;

    if (piece->nyarns == 0)
        return;
    for (int i = 0; i < piece->nyarns; i++)
        balls = balls || piece->yarns[i].buy.balls > 0;
    bag_heading(bag, "What to buy",
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
    bag_more(bag, bag_yarns(piece) - bag->room.yarns, "the words");
    put_yarn_words(bag);
}
