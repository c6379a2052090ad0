/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The chart from the right side. A catch is a short bar in the strand's shade, ringed in black
 * or white, whichever stands out from the stitch it is behind; which way it lies says
 * which strand it is, so that it reads in grey as well. One that stands only beside an edge is
 * hollow, one that stands everywhere but there has a slit; a fine line at its right or left says
 * which edge.
 */
#include <math.h>

#include "parts.h"

static const double PALE = 0.10; /* of its shade is left to a stitch of a map, where marks are all */
static const double BAR = 0.2;              /* half its reach sideways and up, parts of a stitch */
static const double BAR_WIDE = 0.19, RING_WIDE = 0.38;
static const double SLIT_WIDE = 0.075, SLIT_BAR_WIDE = 0.25, SLIT_RING_WIDE = 0.42;
static const double EDGE_LINE_WIDE = 0.07, EDGE_LINE_OUT = 0.35, EDGE_LINE_HALF = 0.26;
static const double ASIDE = 0.10; /* the bar makes room for the line */

enum draw_standing draw_standing_of(const struct drawn_catch *caught)
{
    if (caught->edge)
        return STANDING_EDGE;
    return caught->not_right || caught->not_left ? STANDING_LEFT_OUT : STANDING_ALL;
}

const struct drawn_catch *draw_catches(struct drawing *drawing, int64_t *count)
{
    const struct drawn_catch *list =
        plan_drawn_catches(drawing->work, drawing->band, drawing->wrong_side, count);

    for (int64_t i = 0; i < *count; i++) {
        drawing->nmarks[list[i].strand]++;
        drawing->nmarks_edge[list[i].strand] += list[i].edge;
        drawing->nmarks_left_out[list[i].strand] += draw_standing_of(&list[i]) == STANDING_LEFT_OUT;
    }
    return list;
}

enum { DIRECTIONS = 4, RING_DARK = 0, RING_LIGHT = 1 };

/* Marks of one strand that look alike are one path: [strand][ring][standing]. Slits lie over bars,
 * and with the lines that say which edge are of their ring's shade alone. */
struct marks {
    struct sheet_item *path[GRID_YARNS_MAX][2][STANDINGS];
    struct sheet_item *slit[2], *edge_line[2];
};

static struct sheet_item *bar_path(struct drawing *drawing, int strand, struct sheet_shade ground,
                                   enum draw_standing standing, double size)
{
    static const char *const where[STANDINGS] = {"", " at an edge", " left out at an edge"};
    bool slit = standing == STANDING_LEFT_OUT;
    struct sheet_item *path = sheet_add_path(
        drawing->sheet, standing == STANDING_EDGE ? ground : draw_shade(drawing, strand),
        (slit ? SLIT_BAR_WIDE : BAR_WIDE) * size);

    path->casing = draw_against(ground);
    path->casing_mm = (slit ? SLIT_RING_WIDE : RING_WIDE) * size;
    path->label = words_format(&drawing->page, "catches of %s%s",
                               drawing->plan->piece.yarns[strand].name, where[standing]);
    return path;
}

static struct sheet_item *fine_path(struct drawing *drawing, struct sheet_shade shade, double width,
                                    const char *label)
{
    struct sheet_item *path = sheet_add_path(drawing->sheet, shade, width);

    path->label = label;
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

/* How far a bar moves to the right for the line at its left, or the other way. */
static double aside(const struct drawn_catch *caught, double size)
{
    int right = caught->right_edge || caught->not_right, left = caught->left_edge || caught->not_left;

    return caught->of > 1 || draw_standing_of(caught) == STANDING_ALL ? 0
                                                                      : ASIDE * size * (left - right);
}

/* Upright, at one side of the stitch. */
static void add_edge_line(struct sheet *sheet, struct sheet_item *path, double x, double y,
                          double size)
{
    sheet_move(sheet, path, x, y - EDGE_LINE_HALF * size);
    sheet_line(sheet, path, x, y + EDGE_LINE_HALF * size);
}

void draw_catch_sample(struct drawing *drawing, int strand, struct sheet_shade ground,
                       enum draw_standing standing, double x_mm, double y_mm, double size_mm)
{
    struct sheet *sheet = drawing->sheet;
    struct sheet_shade ring = draw_against(ground);

    x_mm -= standing == STANDING_ALL ? 0 : ASIDE * size_mm;
    add_bar(sheet, bar_path(drawing, strand, ground, standing, size_mm), drawing->rank[strand], x_mm,
            y_mm, size_mm, 1);
    if (standing == STANDING_LEFT_OUT)
        add_bar(sheet, fine_path(drawing, ring, SLIT_WIDE * size_mm, NULL), drawing->rank[strand],
                x_mm, y_mm, size_mm, 1);
    if (standing != STANDING_ALL)
        add_edge_line(sheet, fine_path(drawing, ring, EDGE_LINE_WIDE * size_mm, NULL),
                      x_mm + (ASIDE + EDGE_LINE_OUT) * size_mm, y_mm, size_mm);
}

static void add_mark(struct drawing *drawing, struct marks *marks, const struct drawn_catch *caught)
{
    double size = draw_mark_size_mm(drawing);
    uint8_t behind = plan_drawn_cell(drawing->band, caught->row, caught->column, true);
    struct sheet_shade ground = draw_shade(drawing, behind == GRID_NO_STITCH ? 0 : behind);
    int ring = draw_against(ground).r > 0 ? RING_LIGHT : RING_DARK;
    enum draw_standing standing = draw_standing_of(caught);
    struct sheet_item **path = &marks->path[caught->strand][ring][standing];
    double apart = drawing->cell_w_mm / caught->of * (caught->place - (caught->of - 1) / 2.0);

    if (!*path)
        *path = bar_path(drawing, caught->strand, ground, standing, size);
    add_bar(drawing->sheet, *path, drawing->rank[caught->strand],
            draw_middle_x(drawing, caught->column) + apart + aside(caught, size),
            draw_middle_y(drawing, caught->row), size, caught->of);
}

/* After all bars, so that they lie on top. */
static void add_edge_marks(struct drawing *drawing, struct marks *marks,
                           const struct drawn_catch *caught)
{
    double size = draw_mark_size_mm(drawing);
    uint8_t behind = plan_drawn_cell(drawing->band, caught->row, caught->column, true);
    struct sheet_shade shade =
        draw_against(draw_shade(drawing, behind == GRID_NO_STITCH ? 0 : behind));
    int ring = shade.r > 0 ? RING_LIGHT : RING_DARK;
    enum draw_standing standing = draw_standing_of(caught);
    double part = drawing->cell_w_mm / caught->of;
    double x = draw_middle_x(drawing, caught->column) +
               part * (caught->place - (caught->of - 1) / 2.0);
    double y = draw_middle_y(drawing, caught->row), out = EDGE_LINE_OUT * part;

    if (standing == STANDING_ALL)
        return;
    if (!marks->slit[ring]) {
        marks->slit[ring] = fine_path(drawing, shade, SLIT_WIDE * size, "slits");
        marks->edge_line[ring] = fine_path(drawing, shade, EDGE_LINE_WIDE * size, "which edge");
    }
    if (standing == STANDING_LEFT_OUT)
        add_bar(drawing->sheet, marks->slit[ring], drawing->rank[caught->strand],
                x + aside(caught, size), y, size, caught->of);
    if (caught->right_edge || caught->not_right)
        add_edge_line(drawing->sheet, marks->edge_line[ring], x + out, y, size);
    if (caught->left_edge || caught->not_left)
        add_edge_line(drawing->sheet, marks->edge_line[ring], x - out, y, size);
}

void draw_right_side(struct drawing *drawing)
{
    struct marks marks = {.slit = {NULL}};
    int64_t count = 0;
    const struct drawn_catch *caught =
        drawing->show == DRAW_CATCHES ? draw_catches(drawing, &count) : NULL;

    draw_cells(drawing, drawing->show == DRAW_DENTS ? PALE : 1);
    if (drawing->show != DRAW_DENTS)
        draw_textures(drawing);
    draw_lines(drawing);
    if (drawing->show != DRAW_DENTS)
        draw_sewn(drawing);
    draw_outline(drawing); /* a mark in the topmost row may lie over it */
    for (int64_t i = 0; i < count; i++)
        add_mark(drawing, &marks, &caught[i]);
    for (int64_t i = 0; i < count; i++)
        add_edge_marks(drawing, &marks, &caught[i]);
}
