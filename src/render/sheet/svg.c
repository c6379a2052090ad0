/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A sheet as SVG. Paths of lines go from point to point in hundredths of a millimetre, relative
 * to the point before, rounded so that nothing adds up; that is half the size of plain numbers.
 * Runs of stitches go along the foot of their row and up round each run: the way between two runs
 * encloses nothing, and is shorter to write than boxes of their own.
 */
#include <math.h>

#include "base/arena.h"
#include "base/work.h"
#include "render/json/emit.h"
#include "sheet.h"

static void add_number(struct text *out, double value)
{
    text_decimal(out, value, 3);
}

static void add_attribute(struct text *out, const char *name, double value)
{
    text_addf(out, " %s=\"", name);
    add_number(out, value);
    text_add(out, "\"");
}

static void add_shade(struct text *out, const char *name, struct sheet_shade shade)
{
    text_addf(out, " %s=\"#%02x%02x%02x\"", name, shade.r, shade.g, shade.b);
}

/* Words as XML holds them. What XML has no place for (control characters) is left out. */
static void add_escaped(struct text *out, const char *words)
{
    for (const char *at = words; *at; at++) {
        if (*at == '&')
            text_add(out, "&amp;");
        else if (*at == '<')
            text_add(out, "&lt;");
        else if (*at == '>')
            text_add(out, "&gt;");
        else if (*at == '"')
            text_add(out, "&quot;");
        else if ((unsigned char)*at >= 0x20)
            text_add_bytes(out, at, 1);
    }
}

static void add_label(struct text *out, const char *label)
{
    if (!label)
        return;
    text_add(out, " data-what=\"");
    add_escaped(out, label);
    text_add(out, "\"");
}

static void add_pair(struct text *out, int64_t x, int64_t y)
{
    text_digits(out, x);
    if (y >= 0)
        text_add_bytes(out, " ", 1);
    text_digits(out, y);
}

static void add_step(struct text *out, char what, int64_t by)
{
    text_add_bytes(out, &what, 1);
    text_digits(out, by);
}

static void put_cells(const struct sheet_item *item, struct text *out)
{
    text_add(out, "<path transform=\"translate(");
    add_number(out, item->x_mm);
    text_add(out, " ");
    add_number(out, item->y_mm);
    text_add(out, ") scale(");
    text_decimal(out, item->cell_width_mm, 6);
    text_add(out, " ");
    text_decimal(out, item->cell_height_mm, 6);
    text_add(out, ")\" shape-rendering=\"crispEdges\"");
    add_shade(out, "fill", item->fill);
    add_label(out, item->label);
    text_add(out, " d=\"");
    for (size_t i = 0; i < item->count; i++) {
        const struct sheet_run *run = &item->run[i], *last = i > 0 ? run - 1 : NULL;

        if (last && last->y == run->y) {
            add_step(out, 'h', run->x - last->x - last->cells);
        } else {
            text_add_bytes(out, "M", 1);
            add_pair(out, run->x, run->y + 1);
        }
        text_add_bytes(out, "v-1", 3);
        add_step(out, 'h', run->cells);
        text_add_bytes(out, "v1", 2);
    }
    text_add(out, "\"/>\n");
}

/* --- paths ----------------------------------------------------------------------------- */

static int64_t hundredths(double mm)
{
    return (int64_t)floor(mm * 100 + 0.5);
}

static void add_points(const struct sheet_item *item, struct text *out)
{
    int64_t x = 0, y = 0, start_x = 0, start_y = 0;

    for (size_t i = 0; i < item->count; i++) {
        const struct sheet_point *point = &item->point[i];
        int64_t to_x = hundredths(point->x_mm), to_y = hundredths(point->y_mm);

        if (point->what == 'Z') {
            text_add_bytes(out, "z", 1);
            x = start_x;
            y = start_y;
            continue;
        }
        if (point->what == 'Q') {
            const struct sheet_point *end = &item->point[++i];

            text_add_bytes(out, "q", 1);
            add_pair(out, to_x - x, to_y - y);
            text_add_bytes(out, " ", 1);
            to_x = hundredths(end->x_mm);
            to_y = hundredths(end->y_mm);
            add_pair(out, to_x - x, to_y - y);
        } else if (point->what == 'M') {
            text_add_bytes(out, i > 0 ? "m" : "M", 1);
            add_pair(out, to_x - x, to_y - y);
            start_x = to_x;
            start_y = to_y;
        } else if (to_x == x || to_y == y) {
            add_step(out, to_y == y ? 'h' : 'v', to_y == y ? to_x - x : to_y - y);
        } else {
            text_add_bytes(out, "l", 1);
            add_pair(out, to_x - x, to_y - y);
        }
        x = to_x;
        y = to_y;
    }
}

static void add_stroke(const struct sheet_item *item, struct text *out, struct sheet_shade shade,
                       double width_mm, bool dashed)
{
    add_shade(out, "stroke", shade);
    add_attribute(out, "stroke-width", 100 * width_mm);
    if (dashed && item->dash_mm > 0) {
        text_add(out, " stroke-dasharray=\"");
        add_number(out, 100 * item->dash_mm);
        text_add(out, item->gap_mm > 0 ? " " : "");
        if (item->gap_mm > 0)
            add_number(out, 100 * item->gap_mm);
        text_add(out, "\" stroke-linecap=\"butt\"");
    } else if (!item->square_ends) {
        text_add(out, " stroke-linecap=\"round\" stroke-linejoin=\"round\"");
    }
}

static void add_at(const struct sheet_item *item, struct text *out)
{
    text_add(out, " transform=\"translate(");
    add_number(out, item->x_mm);
    text_add(out, " ");
    add_number(out, item->y_mm);
    text_add(out, ") scale(.01)\"");
}

/* One path; with a casing it is written once and used twice. */
static void put_path(const struct sheet_item *item, int number, struct text *out)
{
    bool cased = item->casing_mm > 0;

    text_add(out, cased ? "<defs><path" : "<path");
    if (cased) {
        text_addf(out, " id=\"p%d\"", number);
    } else {
        add_at(item, out);
        if (item->filled) {
            add_shade(out, "fill", item->fill);
            text_add(out, " fill-rule=\"evenodd\"");
        } else {
            text_add(out, " fill=\"none\"");
        }
        if (item->stroke_mm > 0)
            add_stroke(item, out, item->stroke, item->stroke_mm, true);
    }
    add_label(out, item->label);
    text_add(out, " d=\"");
    add_points(item, out);
    text_add(out, cased ? "\"/></defs>\n" : "\"/>\n");
    for (int layer = 0; cased && layer < 2; layer++) {
        text_addf(out, "<use xlink:href=\"#p%d\" fill=\"none\"", number);
        add_at(item, out);
        if (layer == 0)
            add_stroke(item, out, item->casing, item->casing_mm, false);
        else
            add_stroke(item, out, item->stroke, item->stroke_mm, true);
        text_add(out, "/>\n");
    }
}

static void put_words(const struct sheet_item *item, struct text *out)
{
    static const char *const anchors[] = {"start", "middle", "end"};

    text_add(out, "<text");
    add_attribute(out, "x", item->x_mm);
    add_attribute(out, "y", item->y_mm);
    add_attribute(out, "font-size", item->size_mm);
    if (item->anchor != SHEET_START)
        text_addf(out, " text-anchor=\"%s\"", anchors[item->anchor]);
    if (item->bold)
        text_add(out, " font-weight=\"bold\"");
    if (item->mono)
        text_add(out, " font-family=\"'DejaVu Sans Mono', Menlo, Consolas, monospace\" "
                      "xml:space=\"preserve\"");
    add_shade(out, "fill", item->fill);
    text_add(out, ">");
    add_escaped(out, item->words);
    text_add(out, "</text>\n");
}

void sheet_write_svg(const struct sheet *sheet, struct text *out)
{
    double width = sheet->width_mm + 2 * SHEET_EDGE_MM;
    double height = sheet->height_mm + 2 * SHEET_EDGE_MM;
    int number = 0;

    text_add(out, "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n"
                  "<svg xmlns=\"http://www.w3.org/2000/svg\" "
                  "xmlns:xlink=\"http://www.w3.org/1999/xlink\" version=\"1.1\" role=\"img\" width=\"");
    add_number(out, width);
    text_add(out, "mm\" height=\"");
    add_number(out, height);
    text_add(out, "mm\" viewBox=\"");
    add_number(out, -SHEET_EDGE_MM);
    text_add(out, " ");
    add_number(out, -SHEET_EDGE_MM);
    text_add(out, " ");
    add_number(out, width);
    text_add(out, " ");
    add_number(out, height);
    text_add(out, "\" font-family=\"'DejaVu Sans', Verdana, Helvetica, Arial, sans-serif\">\n<title>");
    add_escaped(out, sheet->title);
    text_add(out, "</title>\n<rect");
    add_attribute(out, "x", -SHEET_EDGE_MM);
    add_attribute(out, "y", -SHEET_EDGE_MM);
    text_add(out, " width=\"100%\" height=\"100%\" fill=\"#ffffff\"/>\n");
    for (const struct sheet_item *item = sheet->first; item; item = item->next) {
        if (item->kind == SHEET_CELLS && item->count > 0)
            put_cells(item, out);
        else if (item->kind == SHEET_PATH && item->count > 0)
            put_path(item, number++, out);
        else if (item->kind == SHEET_WORDS)
            put_words(item, out);
    }
    text_add(out, "</svg>\n");
}
