/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/shade.h"
#include "parts.h"

static const struct sheet_shade EDGE_INK = {90, 90, 90};

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
