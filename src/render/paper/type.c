/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Words set in lines. No font is asked, so that where a line breaks does not depend on the machine;
 * a line that all the same comes out wider is narrowed by the writer (sheet_item.room_mm).
 */
#include <string.h>

#include "base/arena.h"
#include "base/work.h"
#include "parts.h"

static const double LEADING = 1.3, ASCENT = 0.95;

double type_leading_mm(double size_mm)
{
    return LEADING * size_mm;
}

double type_put(struct sheet *sheet, struct work *work, double x_mm, double y_mm, double width_mm,
                double size_mm, const char *words)
{
    while (*words) {
        size_t length = sheet_line_bytes(words, width_mm / size_mm);

        if (sheet)
            type_put_line(sheet, x_mm, y_mm, width_mm, size_mm, SHEET_START,
                          arena_printf(work->arena, "%.*s", (int)length, words));
        y_mm += type_leading_mm(size_mm);
        words += length;
        words += strspn(words, " ");
    }
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
