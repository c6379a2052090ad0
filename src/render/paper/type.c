/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Words set in lines. No font is asked, so that where a line breaks does not depend on the machine;
 * a line that all the same comes out wider is narrowed by the writer (sheet_item.room_mm).
 */
#include <string.h>

#include "base/arena.h"
#include "base/shade.h"
#include "base/work.h"
#include "parts.h"

static const struct sheet_shade EDGE_INK = {90, 90, 90};
static const double LEADING = 1.3, ASCENT = 0.95;

double type_leading_mm(double size_mm)
{
    return LEADING * size_mm;
}

double type_put(struct sheet *sheet, struct work *work, double x_mm, double y_mm, double width_mm,
                double size_mm, const char *words)
{
    for (const char *line; (line = sheet_next_line(work->arena, &words, width_mm / size_mm));
         y_mm += type_leading_mm(size_mm))
        if (sheet)
            type_put_line(sheet, x_mm, y_mm, width_mm, size_mm, SHEET_START, line);
    return y_mm;
}

struct sheet_item *type_put_line(struct sheet *sheet, double x_mm, double y_mm, double room_mm,
                                 double size_mm, enum sheet_anchor anchor, const char *words)
{
    struct sheet_item *item =
        sheet_add_words(sheet, x_mm, y_mm + ASCENT * size_mm, size_mm, anchor, words);

    item->room_mm = room_mm;
    return item;
}

void type_put_swatch(struct sheet *sheet, const struct page *page, const struct plan_yarn *yarn,
                     double x_mm, double y_mm, double high_mm)
{
    struct sheet_item *square = sheet_add_path(sheet, EDGE_INK, 0.25), *mark;
    double light = shade_luminance(yarn->rgb);
    bool dark = shade_contrast(light, 1) > shade_contrast(light, 0);

    square->filled = true;
    square->fill = (struct sheet_shade){yarn->rgb[0], yarn->rgb[1], yarn->rgb[2]};
    square->square_ends = true;
    square->label = words_format(page, "swatch of %s", yarn->name);
    sheet_box(sheet, square, x_mm, y_mm, high_mm * 1.5, high_mm);
    if (!yarn->mark || !*yarn->mark)
        return;
    mark = type_put_line(sheet, x_mm + high_mm * 0.75, y_mm + 0.1 * high_mm, 1.4 * high_mm,
                         0.72 * high_mm, SHEET_MIDDLE, yarn->mark);
    mark->bold = true;
    mark->fill = dark ? (struct sheet_shade){255, 255, 255} : (struct sheet_shade){0, 0, 0};
}
