/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sheet.h"

#include <math.h>

#include "base/arena.h"
#include "base/diag.h"
#include "base/work.h"

static const double FARTHEST_MM = 1e7;

struct sheet *sheet_create(struct work *work)
{
    struct sheet *sheet = arena_alloc(work->arena, 1, sizeof *sheet);

    sheet->work = work;
    sheet->title = "";
    return sheet;
}

static struct sheet_item *add_item(struct sheet *sheet, enum sheet_kind kind)
{
    struct sheet_item *item = arena_alloc(sheet->work->arena, 1, sizeof *item);

    item->kind = kind;
    if (sheet->last)
        sheet->last->next = item;
    else
        sheet->first = item;
    sheet->last = item;
    return item;
}

struct sheet_item *sheet_add_cells(struct sheet *sheet, double x_mm, double y_mm,
                                   double cell_width_mm, double cell_height_mm,
                                   struct sheet_shade fill)
{
    struct sheet_item *item = add_item(sheet, SHEET_CELLS);

    item->x_mm = x_mm;
    item->y_mm = y_mm;
    item->cell_width_mm = cell_width_mm;
    item->cell_height_mm = cell_height_mm;
    item->fill = fill;
    item->filled = true;
    return item;
}

void sheet_run(struct sheet *sheet, struct sheet_item *cells, int x, int y, int count)
{
    if (cells->count == cells->room) {
        cells->room = cells->room ? 2 * cells->room : 64;
        cells->run = arena_grow(sheet->work->arena, cells->run, cells->count, cells->room,
                                sizeof *cells->run);
    }
    cells->run[cells->count++] = (struct sheet_run){x, y, count};
}

struct sheet_item *sheet_add_path(struct sheet *sheet, struct sheet_shade stroke, double stroke_mm)
{
    struct sheet_item *item = add_item(sheet, SHEET_PATH);

    item->stroke = stroke;
    item->stroke_mm = stroke_mm;
    return item;
}

static void add_point(struct sheet *sheet, struct sheet_item *path, char what, double x_mm,
                      double y_mm)
{
    if (path->count == path->room) {
        path->room = path->room ? 2 * path->room : 32;
        path->point = arena_grow(sheet->work->arena, path->point, path->count, path->room,
                                 sizeof *path->point);
    }
    path->point[path->count++] = (struct sheet_point){x_mm, y_mm, what};
}

void sheet_move(struct sheet *sheet, struct sheet_item *path, double x_mm, double y_mm)
{
    add_point(sheet, path, 'M', x_mm, y_mm);
}

void sheet_line(struct sheet *sheet, struct sheet_item *path, double x_mm, double y_mm)
{
    add_point(sheet, path, 'L', x_mm, y_mm);
}

void sheet_curve(struct sheet *sheet, struct sheet_item *path, double towards_x_mm,
                 double towards_y_mm, double x_mm, double y_mm)
{
    add_point(sheet, path, 'Q', towards_x_mm, towards_y_mm);
    add_point(sheet, path, 'L', x_mm, y_mm);
}

void sheet_close(struct sheet *sheet, struct sheet_item *path)
{
    add_point(sheet, path, 'Z', 0, 0);
}

void sheet_box(struct sheet *sheet, struct sheet_item *path, double x_mm, double y_mm,
               double width_mm, double height_mm)
{
    sheet_move(sheet, path, x_mm, y_mm);
    sheet_line(sheet, path, x_mm + width_mm, y_mm);
    sheet_line(sheet, path, x_mm + width_mm, y_mm + height_mm);
    sheet_line(sheet, path, x_mm, y_mm + height_mm);
    sheet_close(sheet, path);
}

/* Control characters (among them what ties words on a line that may break) as blanks. */
static const char *words_untied(struct work *work, const char *words)
{
    char *copy = arena_strdup(work->arena, words);

    for (char *at = copy; *at; at++)
        if ((unsigned char)*at < 0x20 || *at == 0x7f)
            *at = ' ';
    return copy;
}

struct sheet_item *sheet_add_words(struct sheet *sheet, double x_mm, double y_mm, double size_mm,
                                   enum sheet_anchor anchor, const char *words)
{
    struct sheet_item *item = add_item(sheet, SHEET_WORDS);

    item->x_mm = x_mm;
    item->y_mm = y_mm;
    item->size_mm = size_mm;
    item->anchor = anchor;
    item->words = words_untied(sheet->work, words);
    return item;
}

void sheet_put(struct sheet *sheet, struct sheet *other, double x_mm, double y_mm)
{
    if (!other->first)
        return;
    for (struct sheet_item *item = other->first; item; item = item->next) {
        item->x_mm += x_mm;
        item->y_mm += y_mm;
    }
    if (sheet->last)
        sheet->last->next = other->first;
    else
        sheet->first = other->first;
    sheet->last = other->last;
    other->first = other->last = NULL;
}

int sheet_refuse(struct work *work, const char *what, const char *todo)
{
    diag_add(work->diagnostics, DIAG_FILE_WRITE, (struct place){0}, what, todo);
    return -1;
}

enum sheet_way sheet_way_on_page(double width_mm, double height_mm)
{
    if (width_mm <= SHEET_PAGE_WIDTH_MM && height_mm <= SHEET_PAGE_HEIGHT_MM)
        return PAGE_UPRIGHT;
    return width_mm <= SHEET_LONG_WIDTH_MM && height_mm <= SHEET_LONG_HEIGHT_MM ? PAGE_ON_SIDE
                                                                               : PAGE_NONE;
}

static bool is_near(double mm)
{
    return fabs(mm) <= FARTHEST_MM; /* false for NaN */
}

bool sheet_is_sound(const struct sheet *sheet)
{
    if (!is_near(sheet->width_mm) || !is_near(sheet->height_mm))
        return false;
    for (const struct sheet_item *item = sheet->first; item; item = item->next) {
        if (!is_near(item->x_mm) || !is_near(item->y_mm) || !is_near(item->cell_width_mm) ||
            !is_near(item->cell_height_mm) || !is_near(item->size_mm))
            return false;
        for (size_t i = 0; item->kind == SHEET_PATH && i < item->count; i++)
            if (!is_near(item->point[i].x_mm) || !is_near(item->point[i].y_mm))
                return false;
    }
    return true;
}
