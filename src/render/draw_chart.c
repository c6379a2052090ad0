/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The chart from the right side. A catch is a short bar in the strand's shade, ringed in black
 * or white, whichever stands out from the stitch it is behind; which way it lies says
 * which strand it is, so that it reads in grey as well.
 */
#include <math.h>

#include "draw_parts.h"
#include "plan/strands.h"

static const double BAR = 0.2;              /* half its reach sideways and up, parts of a stitch */
static const double BAR_WIDE = 0.19, RING_WIDE = 0.38;

enum { DIRECTIONS = 4, RING_DARK = 0, RING_LIGHT = 1 };

/* Marks of one strand that look alike are one path: [strand][ring][at an edge only]. */
struct marks {
    struct sheet_item *path[GRID_YARNS_MAX][2][2];
};

static struct sheet_item *bar_path(struct drawing *drawing, int strand, struct sheet_shade ground,
                                   bool edge, double size)
{
    struct sheet_item *path = sheet_add_path(
        drawing->sheet, edge ? ground : draw_shade(drawing, strand), BAR_WIDE * size);

    path->casing = draw_against(ground);
    path->casing_mm = RING_WIDE * size;
    path->label = words_format(&drawing->page, edge ? "catches of %s at an edge" : "catches of %s",
                               drawing->plan->piece.yarns[strand].name);
    return path;
}

/* Four ways to lie; for a fifth strand and more, two dots in place of the bar. Where `of` strands
 * share a stitch each keeps to its part of the width, and to the same height. */
static void add_bar(struct sheet *sheet, struct sheet_item *path, int rank, double x, double y,
                    double size, int of)
{
    static const double across[DIRECTIONS] = {1, 1, 1.3, 0}, up[DIRECTIONS] = {1, -1, 0, 1.3};
    double dx = fmin(across[rank % DIRECTIONS] * BAR, fmax(0, (0.94 / of - RING_WIDE) / 2)) * size;
    double dy = up[rank % DIRECTIONS] * BAR * size;
    bool dots = rank / DIRECTIONS % 2 == 1;

    sheet_move(sheet, path, x - dx, y + dy);
    if (dots) {
        sheet_line(sheet, path, x - dx + 0.01, y + dy);
        sheet_move(sheet, path, x + dx, y - dy);
        sheet_line(sheet, path, x + dx + 0.01, y - dy);
    } else {
        sheet_line(sheet, path, x + dx, y - dy);
    }
}

void draw_catch_sample(struct drawing *drawing, int strand, struct sheet_shade ground, bool edge,
                       double x_mm, double y_mm, double size_mm)
{
    add_bar(drawing->sheet, bar_path(drawing, strand, ground, edge, size_mm), drawing->rank[strand],
            x_mm, y_mm, size_mm, 1);
}

static void add_mark(struct drawing *drawing, struct marks *marks, const struct draw_catch *caught)
{
    double size = fmin(drawing->cell_w_mm, drawing->cell_h_mm);
    uint8_t behind = draw_cell(drawing, caught->row, caught->column, true);
    struct sheet_shade ground = draw_shade(drawing, behind == GRID_NO_STITCH ? 0 : behind);
    int ring = draw_against(ground).r > 0 ? RING_LIGHT : RING_DARK;
    struct sheet_item **path = &marks->path[caught->strand][ring][caught->edge];
    double apart = drawing->cell_w_mm / caught->of * (caught->place - (caught->of - 1) / 2.0);

    if (!*path)
        *path = bar_path(drawing, caught->strand, ground, caught->edge, size);
    add_bar(drawing->sheet, *path, drawing->rank[caught->strand],
            draw_middle_x(drawing, caught->column) + apart, draw_middle_y(drawing, caught->row), size,
            caught->of);
}

void draw_right_side(struct drawing *drawing)
{
    struct marks marks = {{{{NULL}}}};
    int64_t count = 0;
    const struct draw_catch *caught = drawing->blank ? NULL : draw_catches(drawing, &count);

    draw_cells(drawing, 1);
    draw_textures(drawing);
    draw_lines(drawing);
    draw_sewn(drawing);
    draw_outline(drawing); /* a mark in the topmost row may lie over it */
    for (int64_t i = 0; i < count; i++)
        add_mark(drawing, &marks, &caught[i]);
}
