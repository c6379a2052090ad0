/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * One page for the bag: as large as it fits, then shortened until it does.
 */
#include "parts.h"
#include "render/report/report.h"

static const double SIZES_MM[] = {3.6, 3.4, 3.2, 3.0, 2.8, 2.6};
static const double PICTURES_MM[] = {50, 50, 47, 44, 40, 36};
enum { SIZES = sizeof SIZES_MM / sizeof *SIZES_MM, PICTURES_MOST = 6 };

static struct bag lay_out(const struct page *page, struct bag_room room, bool draw)
{
    struct bag bag = {.page = page, .sheet = sheet_create(page->work), .room = room, .draw = draw};

    bag_put_title(&bag);
    bag_put_points(&bag);
    bag_put_yarns(&bag);
    bag_put_steps(&bag);
    bag_put_pictures(&bag);
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
    const char *points[BAG_POINTS_MAX];
    struct bag_room room = {bag_points(page, points), bag_yarns(&page->plan->piece), bag_steps(page),
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
    const char *points[BAG_POINTS_MAX];
    struct bag bag = lay_out(page, room, true);
    struct sheet *sheet = bag.sheet;

    bag_put_notes(&bag);
    *whole = 0;
    if (room.points >= bag_points(page, points))
        *whole |= REPORT_BEFORE;
    if (room.yarns >= bag_yarns(&page->plan->piece) && page->plan->nchanges == 0)
        *whole |= REPORT_BUY;
    if (room.steps >= bag_steps(page))
        *whole |= REPORT_STEPS;
    sheet->title = *page->plan->title ? page->plan->title : page->plan->project_name;
    sheet->width_mm = SHEET_PAGE_WIDTH_MM;
    sheet->height_mm = SHEET_PAGE_HEIGHT_MM;
    return sheet;
}
