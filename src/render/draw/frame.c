/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What stands round and over the stitches: lines, the outline of the repeat, the numbers.
 */
#include <math.h>

#include "parts.h"

static const struct sheet_shade LINE_INK = {128, 128, 128}; /* to be seen on light and dark */
static const struct sheet_shade HEAVY_INK = {70, 70, 70};
static const struct sheet_shade PAPER = {255, 255, 255};
static const struct sheet_shade INK = {0, 0, 0};

/* A line before every step-th row and column, but not before those of a coarser one. */
static void add_lines(struct drawing *drawing, struct sheet_item *path, int step, int not_step)
{
    double left = drawing->x_mm, right = left + drawing->ncols * drawing->cell_w_mm;
    double top = drawing->y_mm, bottom = top + drawing->nrows * drawing->cell_h_mm;
    int right_cols = drawing->right_cols, repeat = drawing->band->drawn.ncols;

    path->square_ends = true;
    for (int row = step; row < drawing->nrows; row += step) {
        double y = bottom - row * drawing->cell_h_mm;

        if (not_step > 0 && row % not_step == 0)
            continue;
        sheet_move(drawing->sheet, path, left, y);
        sheet_line(drawing->sheet, path, right, y);
    }
    for (int column = 1; column < drawing->ncols; column++) {
        int from = column - right_cols; /* counted from the right edge of the repeat */
        bool within = from > 0 && from < repeat;
        double x = drawing->wrong_side ? left + column * drawing->cell_w_mm
                                       : right - column * drawing->cell_w_mm;

        if (step > 1 && (!within || from % step != 0))
            continue;
        if (not_step > 0 && within && from % not_step == 0)
            continue;
        sheet_move(drawing->sheet, path, x, top);
        sheet_line(drawing->sheet, path, x, bottom);
    }
}

void draw_lines(struct drawing *drawing)
{
    double fine = fmin(0.12, drawing->cell_w_mm / 20);
    struct sheet_item *path = sheet_add_path(drawing->sheet, LINE_INK, fine);

    add_lines(drawing, path, 1, 5);
    path = sheet_add_path(drawing->sheet, HEAVY_INK, 2.4 * fine);
    path->casing = PAPER;
    path->casing_mm = 4.8 * fine;
    add_lines(drawing, path, 5, 10);
    path = sheet_add_path(drawing->sheet, INK, 4 * fine);
    path->casing = PAPER;
    path->casing_mm = 6.8 * fine;
    add_lines(drawing, path, 10, 0);
}

void draw_edge(struct drawing *drawing)
{
    struct sheet_item *path = sheet_add_path(drawing->sheet, HEAVY_INK, 0.25);

    path->square_ends = true;
    sheet_box(drawing->sheet, path, drawing->x_mm, drawing->y_mm,
              drawing->ncols * drawing->cell_w_mm, drawing->nrows * drawing->cell_h_mm);
}

void draw_outline(struct drawing *drawing)
{
    const struct plan_band *band = drawing->band;
    double height = drawing->nrows * drawing->cell_h_mm;
    double width = band->drawn.ncols * drawing->cell_w_mm;
    int cols_left = drawing->wrong_side ? drawing->right_cols : band->left.ncols;
    struct sheet_item *path;

    if (band->side_sts > 0) /* the side stitches too have an edge */
        draw_edge(drawing);
    path = sheet_add_path(drawing->sheet, INK, 0.7);
    path->square_ends = true;
    path->casing = PAPER;
    path->casing_mm = 1.3;
    path->label = "one repeat";
    sheet_box(drawing->sheet, path, drawing->x_mm + cols_left * drawing->cell_w_mm, drawing->y_mm,
              width, height);
}

/* --- numbers --------------------------------------------------------------------------- */

static double number_size_mm(double room_mm)
{
    return fmin(2.9, fmax(1.8, 0.62 * room_mm));
}

/* How many numbers may be left out so that each has its room: 1, 5, 10, 50 ... */
static int number_step(double room_mm, double needed_mm)
{
    int step = 1;

    while (step * room_mm < needed_mm && step < 5000)
        step *= step == 1 || step % 10 == 0 ? 5 : 2;
    return step;
}

double draw_number_room_mm(const struct drawing *drawing)
{
    const char *widest = words_format(&drawing->page, "%d", drawing->nrows);

    return 2.5 + sheet_words_width_mm(widest, number_size_mm(drawing->cell_h_mm), true) * 1.2;
}

static void put_number(struct drawing *drawing, double x, double y, double size,
                       enum sheet_anchor anchor, int number)
{
    struct sheet_item *words = sheet_add_words(drawing->sheet, x, y, size, anchor,
                                               words_format(&drawing->page, "%d", number));

    words->bold = number % 5 == 0;
}

/* Beside the end at which the row begins. */
bool draw_begins_at_right(const struct drawing *drawing, int row)
{
    bool right = drawing->plan->round || drawing->first_row_right_side == (row % 2 == 0);

    return right != drawing->wrong_side;
}

static void number_rows(struct drawing *drawing)
{
    double size = number_size_mm(drawing->cell_h_mm);
    int step = number_step(drawing->cell_h_mm, 1.05 * size);
    double left = drawing->x_mm - 1.3;
    double right = drawing->x_mm + drawing->ncols * drawing->cell_w_mm + 1.3;

    for (int number = 1; number <= drawing->nrows; number++) {
        double y = draw_middle_y(drawing, number - 1) + 0.36 * size;
        bool at_right = draw_begins_at_right(drawing, number - 1);

        if (number % step == 0 || (number == 1 && drawing->nrows > 0))
            put_number(drawing, at_right ? right : left, y, size,
                       at_right ? SHEET_START : SHEET_END, number);
    }
}

/* Each part from its own right edge: the words count so too. */
static void number_columns(struct drawing *drawing, int first, int count)
{
    double size = number_size_mm(drawing->cell_w_mm);
    const char *widest = words_format(&drawing->page, "%d", count);
    int step = number_step(drawing->cell_w_mm, 1.15 * sheet_words_width_mm(widest, size, true));
    double y = drawing->y_mm + drawing->nrows * drawing->cell_h_mm + 1.4 + 0.75 * size;

    for (int number = 1; number <= count; number++)
        if (number % step == 0 || number == 1)
            put_number(drawing, draw_middle_x(drawing, first + number - 1), y, size, SHEET_MIDDLE,
                       number);
}

void draw_numbers(struct drawing *drawing)
{
    const struct plan_band *band = drawing->band;

    number_rows(drawing);
    number_columns(drawing, drawing->right_cols, band->drawn.ncols);
    if (band->right.ncols > 0)
        number_columns(drawing, 0, band->right.ncols);
    if (band->left.ncols > 0)
        number_columns(drawing, drawing->right_cols + band->drawn.ncols, band->left.ncols);
}
