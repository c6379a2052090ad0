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
static const double APART = 0.24;           /* of two behind one stitch, from the middle */

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

/* Four ways to lie; for a fifth strand and more, two dots in place of the bar. */
static void add_bar(struct sheet *sheet, struct sheet_item *path, int rank, double x, double y,
                    double size)
{
    static const double across[DIRECTIONS] = {1, 1, 1.3, 0}, up[DIRECTIONS] = {1, -1, 0, 1.3};
    double dx = across[rank % DIRECTIONS] * BAR * size, dy = up[rank % DIRECTIONS] * BAR * size;
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
            x_mm, y_mm, size_mm);
}

/* strand -1: of any. */
static bool has_catch(const struct catch_map *map, int row, int column, int strand)
{
    for (int64_t i = 0; map && i < map->count && map->mark[i].row <= row; i++)
        if (map->mark[i].row == row && map->mark[i].column == column &&
            (strand < 0 || map->mark[i].strand == strand))
            return true;
    return false;
}

/* apart: -1, 0 or 1. */
static void add_mark(struct drawing *drawing, struct marks *marks, int row, int column, int strand,
                     bool edge, int apart)
{
    double size = fmin(drawing->cell_w_mm, drawing->cell_h_mm);
    uint8_t behind = draw_cell(drawing, row, column, true);
    struct sheet_shade ground = draw_shade(drawing, behind == GRID_NO_STITCH ? 0 : behind);
    int ring = draw_against(ground).r > 0 ? RING_LIGHT : RING_DARK;
    struct sheet_item **path = &marks->path[strand][ring][edge];

    if (!*path)
        *path = bar_path(drawing, strand, ground, edge, size);
    add_bar(drawing->sheet, *path, drawing->rank[strand],
            draw_middle_x(drawing, column) + apart * APART * drawing->cell_w_mm,
            draw_middle_y(drawing, row), size);
    drawing->nmarks[strand]++;
    drawing->nmarks_edge += edge;
}

static void add_map(struct drawing *drawing, struct marks *marks, const struct catch_map *map,
                    bool outer)
{
    for (int64_t i = 0; map && i < map->count; i++) {
        const struct catch_mark *mark = &map->mark[i], *next = i + 1 < map->count ? mark + 1 : NULL;
        const struct catch_mark *last = i > 0 ? mark - 1 : NULL;
        bool shares_next = next && next->row == mark->row && next->column == mark->column;
        bool shares_last = last && last->row == mark->row && last->column == mark->column;
        int column = outer ? draw_outer_column(drawing, mark->column)
                           : mark->column + drawing->right_cols;
        int within = column - drawing->right_cols;
        bool edge = outer && within >= 0 && within < drawing->band->drawn.ncols;

        if (!outer && plan_catch_copies(drawing->band, mark) == 0)
            continue; /* worked once across, and the float has an end at the edge */
        /* the mark that stands there for every repeat says it already */
        if (edge && has_catch(drawing->band->catches, mark->row, within, mark->strand))
            continue;
        shares_last |= edge && has_catch(drawing->band->catches, mark->row, within, -1);
        if (column >= 0)
            add_mark(drawing, marks, mark->row, column, mark->strand, edge,
                     shares_last ? 1 : shares_next ? -1 : 0);
    }
}

void draw_right_side(struct drawing *drawing)
{
    struct marks marks = {{{{NULL}}}};

    draw_cells(drawing, 1);
    draw_textures(drawing);
    draw_lines(drawing);
    draw_sewn(drawing);
    if (drawing->blank)
        return;
    add_map(drawing, &marks, drawing->band->catches, false);
    add_map(drawing, &marks, drawing->band->outer, true);
}
