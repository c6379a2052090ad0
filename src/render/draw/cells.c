/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The stitches themselves: their shades, the fine rules that tell shades apart in grey, what is
 * sewn on, what is no stitch.
 */
#include "parts.h"

static const struct sheet_shade EMPTY_INK = {150, 150, 150};
static const double RULE_MM = 0.14;
static const double INSET = 0.14, HOLLOW = 0.34; /* parts of a stitch: a stitch sewn on is a frame */

enum { CELLS_CROWDED = GRID_YARNS_MAX, CELLS = CELLS_CROWDED + DRAW_CROWDED_STEPS };

/* Which item takes a square: that of the yarn knitted there or, on a map, of how crowded it is; -1: none. */
static int cells_at(const struct drawing *drawing, int row, int column)
{
    uint8_t yarn = plan_drawn_cell(drawing->band, row, column, true);
    int step = drawing->show == DRAW_DENTS ? draw_crowded_step(drawing, row, column) : -1;

    return yarn == GRID_NO_STITCH ? -1 : step >= 0 ? CELLS_CROWDED + step : yarn;
}

static void add_runs(struct drawing *drawing, struct sheet_item *const *cells)
{
    for (int row = 0; row < drawing->nrows; row++)
        for (int column = 0, run; column < drawing->ncols; column += run) {
            int at = cells_at(drawing, row, column), left;

            run = 1;
            while (column + run < drawing->ncols && cells_at(drawing, row, column + run) == at)
                run++;
            left = drawing->wrong_side ? column : drawing->ncols - column - run;
            if (at >= 0)
                sheet_run(drawing->sheet, cells[at], left, drawing->nrows - 1 - row, run);
        }
}

/* Slanted fine lines, three to a square: open, and not to be taken for a stitch. */
static void hatch(struct drawing *drawing, struct sheet_item *path, int yarn, double x, double y,
                  double width, double height)
{
    struct sheet *sheet = drawing->sheet;

    (void)yarn;
    sheet_move(sheet, path, x + width * 0.1, y + height * 0.5);
    sheet_line(sheet, path, x + width * 0.5, y + height * 0.1);
    sheet_move(sheet, path, x + width * 0.1, y + height * 0.9);
    sheet_line(sheet, path, x + width * 0.9, y + height * 0.1);
    sheet_move(sheet, path, x + width * 0.5, y + height * 0.9);
    sheet_line(sheet, path, x + width * 0.9, y + height * 0.5);
}

/* What stands on a square, added to a path; yarn: of which the square is. */
typedef void adder(struct drawing *drawing, struct sheet_item *path, int yarn, double x, double y,
                   double width, double height);

/* On every square of a yarn, or that is no stitch. knitted: of the yarn under a stitch sewn on. */
static void add_to_squares(struct drawing *drawing, struct sheet_item *path, int yarn, bool knitted,
                           adder *add)
{
    for (int row = 0; row < drawing->nrows; row++)
        for (int column = 0; column < drawing->ncols; column++)
            if (plan_drawn_cell(drawing->band, row, column, knitted) == yarn)
                add(drawing, path, yarn, draw_column_x(drawing, column), draw_row_y(drawing, row),
                    drawing->cell_w_mm, drawing->cell_h_mm);
}

static struct sheet_item *add_cells(struct drawing *drawing, struct sheet_shade shade, const char *label)
{
    struct sheet_item *cells = sheet_add_cells(drawing->sheet, drawing->x_mm, drawing->y_mm,
                                               drawing->cell_w_mm, drawing->cell_h_mm, shade);

    cells->label = label;
    return cells;
}

void draw_cells(struct drawing *drawing, double shade_part)
{
    static const char *const crowded[] = {"somewhat crowded", "more crowded", "most crowded"};
    struct sheet_item *cells[CELLS] = {NULL};

    for (int yarn = 0; yarn < drawing->plan->piece.nyarns; yarn++)
        cells[yarn] = add_cells(drawing, draw_tint(draw_shade(drawing, yarn), shade_part),
                                words_format(&drawing->page, "stitches in %s",
                                             drawing->plan->piece.yarns[yarn].name));
    for (int step = 0; drawing->show == DRAW_DENTS && step < DRAW_CROWDED_STEPS; step++)
        cells[CELLS_CROWDED + step] = add_cells(drawing, draw_crowded_shade(step), crowded[step]);
    add_runs(drawing, cells);
    if (drawing->seen_empty) {
        struct sheet_item *path = sheet_add_path(drawing->sheet, EMPTY_INK, RULE_MM);

        path->label = "no stitch";
        add_to_squares(drawing, path, GRID_NO_STITCH, true, hatch);
    }
}

/* --- textures -------------------------------------------------------------------------- */

static struct sheet_item *texture_path(struct drawing *drawing, int yarn)
{
    struct sheet_shade ink = draw_against(draw_shade(drawing, yarn));
    struct sheet_item *path = sheet_add_path(drawing->sheet, ink, RULE_MM);

    path->square_ends = true;
    return path;
}

static void add_texture(struct drawing *drawing, struct sheet_item *path, int yarn, double x, double y,
                        double width, double height)
{
    enum draw_texture texture = drawing->texture[yarn];
    struct sheet *sheet = drawing->sheet;

    if (texture == TEXTURE_LYING || texture == TEXTURE_CROSSED)
        for (int i = 1; i <= 3; i++) {
            sheet_move(sheet, path, x, y + height * i / 4);
            sheet_line(sheet, path, x + width, y + height * i / 4);
        }
    if (texture == TEXTURE_UPRIGHT || texture == TEXTURE_CROSSED)
        for (int i = 1; i <= 3; i++) {
            sheet_move(sheet, path, x + width * i / 4, y);
            sheet_line(sheet, path, x + width * i / 4, y + height);
        }
}

void draw_textures(struct drawing *drawing)
{
    for (int yarn = 0; yarn < drawing->plan->piece.nyarns; yarn++)
        if (drawing->texture[yarn] != TEXTURE_NONE)
            add_to_squares(drawing, texture_path(drawing, yarn), yarn, false, add_texture);
}

/* --- sewn on --------------------------------------------------------------------------- */

static struct sheet_item *sewn_path(struct drawing *drawing, int yarn)
{
    int under = drawing->plan->piece.yarns[yarn].over;
    struct sheet_item *path = sheet_add_path(
        drawing->sheet, draw_against(draw_shade(drawing, under)), RULE_MM);

    path->filled = true;
    path->fill = draw_shade(drawing, yarn);
    path->square_ends = true;
    path->label = words_format(&drawing->page, "sewn on in %s",
                               drawing->plan->piece.yarns[yarn].name);
    return path;
}

/* A frame in the yarn sewn on; the yarn knitted under it shows round and within. */
static void add_frame(struct drawing *drawing, struct sheet_item *path, int yarn, double x, double y,
                      double width, double height)
{
    (void)yarn;
    sheet_box(drawing->sheet, path, x + width * INSET, y + height * INSET, width * (1 - 2 * INSET),
              height * (1 - 2 * INSET));
    sheet_box(drawing->sheet, path, x + width * HOLLOW, y + height * HOLLOW,
              width * (1 - 2 * HOLLOW), height * (1 - 2 * HOLLOW));
}

void draw_sewn(struct drawing *drawing)
{
    for (int yarn = 0; yarn < drawing->plan->piece.nyarns; yarn++)
        if (drawing->seen[yarn] && drawing->plan->piece.yarns[yarn].over >= 0)
            add_to_squares(drawing, sewn_path(drawing, yarn), yarn, false, add_frame);
}

/* --- samples --------------------------------------------------------------------------- */

void draw_sample(struct drawing *drawing, int yarn, double x_mm, double y_mm, double width_mm,
                 double height_mm)
{
    struct sheet_item *path = sheet_add_path(drawing->sheet, (struct sheet_shade){90, 90, 90}, RULE_MM);

    path->filled = true;
    path->fill = draw_shade(drawing, yarn);
    path->square_ends = true;
    sheet_box(drawing->sheet, path, x_mm, y_mm, width_mm, height_mm);
    if (drawing->texture[yarn] != TEXTURE_NONE && !drawing->wrong_side)
        add_texture(drawing, texture_path(drawing, yarn), yarn, x_mm, y_mm, width_mm, height_mm);
}

void draw_empty_sample(struct drawing *drawing, double x_mm, double y_mm, double width_mm,
                       double height_mm)
{
    hatch(drawing, sheet_add_path(drawing->sheet, EMPTY_INK, RULE_MM), GRID_NO_STITCH, x_mm, y_mm,
          width_mm, height_mm);
}

void draw_sewn_sample(struct drawing *drawing, int yarn, double x_mm, double y_mm, double width_mm,
                      double height_mm)
{
    draw_sample(drawing, drawing->plan->piece.yarns[yarn].over, x_mm, y_mm, width_mm, height_mm);
    add_frame(drawing, sewn_path(drawing, yarn), yarn, x_mm, y_mm, width_mm, height_mm);
}
