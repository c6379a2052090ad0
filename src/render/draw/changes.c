/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The stitches that could be changed, marked: each a lozenge in the yarn it would be in, with the number
 * under which the legend says what that saves.
 */
#include "parts.h"
#include "render/report/report.h"

static const double LOZENGE = 0.46, LETTERS = 0.5, LINE = 0.05; /* in parts of the smaller side */

static bool is_one_of(const struct plan_recolour *change, int row, int column, uint8_t *yarn)
{
    for (int i = 0; i < change->ncells; i++)
        if (change->cells[i].row == row && change->cells[i].column == column) {
            *yarn = change->cells[i].yarn;
            return true;
        }
    return false;
}

/* Two that are no two of those listed. */
static bool has_other_pair(const struct plan_band *band)
{
    return band->recolours.has_pair && band->recolours.pair_of[0] < 0;
}

int draw_change_at(const struct drawing *drawing, int row, int column, uint8_t *yarn)
{
    const struct plan_recolours *recolours = &drawing->band->recolours;

    column -= drawing->right_cols;
    for (int i = 0; i < recolours->nones; i++)
        if (is_one_of(&recolours->one[i], row, column, yarn))
            return i;
    return has_other_pair(drawing->band) && is_one_of(&recolours->pair, row, column, yarn)
               ? RECOLOUR_ONES_MAX
               : -1;
}

const char *draw_change_words(const struct drawing *drawing, int number)
{
    const struct plan_recolours *recolours = &drawing->band->recolours;

    if (number < recolours->nones)
        return words_recolour(&drawing->page, drawing->band, &recolours->one[number]);
    return number == RECOLOUR_ONES_MAX && has_other_pair(drawing->band)
               ? words_recolour_pair(&drawing->page, drawing->band)
               : NULL;
}

static void add_lozenge(struct drawing *drawing, int number, int yarn, double x, double y, double size)
{
    struct sheet *sheet = drawing->sheet;
    struct sheet_shade fill = draw_shade(drawing, yarn), line = draw_against(fill);
    struct sheet_item *path = sheet_add_path(sheet, line, LINE * size), *words;
    double half = LOZENGE * size;

    path->label = "to change";
    path->filled = true;
    path->fill = fill;
    sheet_move(sheet, path, x, y - half);
    sheet_line(sheet, path, x + half, y);
    sheet_line(sheet, path, x, y + half);
    sheet_line(sheet, path, x - half, y);
    sheet_close(sheet, path);
    words = sheet_add_words(sheet, x, y + 0.36 * LETTERS * size, LETTERS * size, SHEET_MIDDLE,
                            number == RECOLOUR_ONES_MAX ? "="
                                                        : words_format(&drawing->page, "%d", number + 1));
    words->fill = line;
}

void draw_changes(struct drawing *drawing)
{
    double size = draw_mark_size_mm(drawing);
    uint8_t yarn;

    for (int row = 0; row < drawing->nrows; row++)
        for (int column = 0; column < drawing->ncols; column++) {
            int number = draw_change_at(drawing, row, column, &yarn);

            if (number >= 0)
                add_lozenge(drawing, number, yarn, draw_middle_x(drawing, column),
                            draw_middle_y(drawing, row), size);
        }
}

void draw_changes_list(struct shelf *shelf)
{
    struct drawing *drawing = shelf->drawing;
    const struct plan_recolours *recolours = &drawing->band->recolours;

    for (int number = 0; number <= RECOLOUR_ONES_MAX; number++) {
        const char *words = draw_change_words(drawing, number);
        const struct plan_recolour *change =
            number < recolours->nones ? &recolours->one[number] : &recolours->pair;
        double x, y;

        if (words && shelf_entry(shelf, words_untie(&drawing->page, words), &x, &y))
            add_lozenge(drawing, number, change->cells[0].yarn, x + DRAW_SAMPLE_MM / 2,
                        y + DRAW_SAMPLE_MM / 2, DRAW_SAMPLE_MM);
    }
}
