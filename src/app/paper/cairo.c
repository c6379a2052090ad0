/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "cairo.h"

#include <math.h>

static void set_shade(cairo_t *cairo, struct sheet_shade shade)
{
    cairo_set_source_rgb(cairo, shade.r / 255.0, shade.g / 255.0, shade.b / 255.0);
}

static const double NEAR_MM = 5.0; /* lines are wider than their points */

static bool shows(const struct sheet_window *window, double x, double y, double x2, double y2)
{
    return x2 >= window->x_mm - NEAR_MM && x <= window->x2_mm + NEAR_MM &&
           y2 >= window->y_mm - NEAR_MM && y <= window->y2_mm + NEAR_MM;
}

static void paint_cells(cairo_t *cairo, const struct sheet_item *item, const struct sheet_window *window)
{
    cairo_set_antialias(cairo, CAIRO_ANTIALIAS_NONE); /* else hairlines between neighbours */
    set_shade(cairo, item->fill);
    for (size_t i = 0; i < item->count; i++) {
        double x = item->run[i].x * item->cell_width_mm, y = item->run[i].y * item->cell_height_mm;
        double width = item->run[i].cells * item->cell_width_mm;

        if (shows(window, item->x_mm + x, item->y_mm + y, item->x_mm + x + width,
                  item->y_mm + y + item->cell_height_mm))
            cairo_rectangle(cairo, x, y, width, item->cell_height_mm);
    }
    cairo_fill(cairo);
    cairo_set_antialias(cairo, CAIRO_ANTIALIAS_DEFAULT);
}

/* One line of a path, the points from..end - 1. */
static bool line_shows(const struct sheet_item *item, size_t from, size_t end,
                       const struct sheet_window *window)
{
    double x = HUGE_VAL, y = HUGE_VAL, x2 = -HUGE_VAL, y2 = -HUGE_VAL;

    for (size_t i = from; i < end; i++) {
        const struct sheet_point *point = &item->point[i];

        if (point->what == 'Z')
            continue;
        x = fmin(x, item->x_mm + point->x_mm);
        x2 = fmax(x2, item->x_mm + point->x_mm);
        y = fmin(y, item->y_mm + point->y_mm);
        y2 = fmax(y2, item->y_mm + point->y_mm);
    }
    return shows(window, x, y, x2, y2);
}

static size_t line_end(const struct sheet_item *item, size_t from)
{
    size_t end = from + 1;

    while (end < item->count && item->point[end].what != 'M')
        end++;
    return end;
}

static void trace_line(cairo_t *cairo, const struct sheet_item *item, size_t from, size_t to)
{
    for (size_t i = from; i < to; i++) {
        const struct sheet_point *point = &item->point[i];

        if (point->what == 'M') {
            cairo_move_to(cairo, point->x_mm, point->y_mm);
        } else if (point->what == 'L') {
            cairo_line_to(cairo, point->x_mm, point->y_mm);
        } else if (point->what == 'Z') {
            cairo_close_path(cairo);
        } else { /* a curve of one bend as one of two */
            const struct sheet_point *end = &item->point[++i];
            double x, y;

            cairo_get_current_point(cairo, &x, &y);
            cairo_curve_to(cairo, x + (point->x_mm - x) * 2 / 3, y + (point->y_mm - y) * 2 / 3,
                           end->x_mm + (point->x_mm - end->x_mm) * 2 / 3,
                           end->y_mm + (point->y_mm - end->y_mm) * 2 / 3, end->x_mm, end->y_mm);
        }
    }
}

static void trace_path(cairo_t *cairo, const struct sheet_item *item, const struct sheet_window *window)
{
    for (size_t i = 0, end; i < item->count; i = end) {
        end = line_end(item, i);
        if (line_shows(item, i, end, window))
            trace_line(cairo, item, i, end);
    }
}

static void paint_path(cairo_t *cairo, const struct sheet_item *item, const struct sheet_window *window)
{
    trace_path(cairo, item, window);
    cairo_set_line_cap(cairo, item->square_ends ? CAIRO_LINE_CAP_BUTT : CAIRO_LINE_CAP_ROUND);
    cairo_set_line_join(cairo, item->square_ends ? CAIRO_LINE_JOIN_MITER : CAIRO_LINE_JOIN_ROUND);
    if (item->filled) {
        set_shade(cairo, item->fill);
        cairo_set_fill_rule(cairo, CAIRO_FILL_RULE_EVEN_ODD);
        cairo_fill_preserve(cairo);
    }
    if (item->casing_mm > 0) {
        set_shade(cairo, item->casing);
        cairo_set_line_width(cairo, item->casing_mm);
        cairo_stroke_preserve(cairo);
    }
    if (item->stroke_mm > 0) {
        set_shade(cairo, item->stroke);
        cairo_set_line_width(cairo, item->stroke_mm);
        if (item->dash_mm > 0) {
            double dash[2] = {item->dash_mm, item->gap_mm > 0 ? item->gap_mm : item->dash_mm};

            cairo_set_line_cap(cairo, CAIRO_LINE_CAP_BUTT);
            cairo_set_dash(cairo, dash, 2, 0);
        }
        cairo_stroke_preserve(cairo);
    }
    cairo_new_path(cairo);
}

/* Words put at 0, 0, narrowed to their room. */
static void paint_words(cairo_t *cairo, const struct sheet_item *item)
{
    cairo_text_extents_t extents;

    cairo_select_font_face(cairo, item->mono ? "DejaVu Sans Mono" : "DejaVu Sans",
                           CAIRO_FONT_SLANT_NORMAL,
                           item->bold ? CAIRO_FONT_WEIGHT_BOLD : CAIRO_FONT_WEIGHT_NORMAL);
    cairo_set_font_size(cairo, item->size_mm);
    cairo_text_extents(cairo, item->words, &extents);
    set_shade(cairo, item->fill);
    if (item->room_mm > 0 && extents.x_advance > item->room_mm)
        cairo_scale(cairo, item->room_mm / extents.x_advance, 1);
    cairo_move_to(cairo, -extents.x_advance * (int)item->anchor / 2, 0);
    cairo_show_text(cairo, item->words);
}

static bool words_show(const struct sheet_item *item, const struct sheet_window *window)
{
    double width = sheet_words_width_mm(item->words, item->size_mm, item->bold) * 2; /* any face */

    return shows(window, item->x_mm - width, item->y_mm - item->size_mm, item->x_mm + width,
                 item->y_mm + item->size_mm);
}

static bool is_anchored(const struct sheet_item *item, const struct sheet_window *window)
{
    return item->x_mm >= window->x_mm && item->x_mm < window->x2_mm && item->y_mm >= window->y_mm &&
           item->y_mm < window->y2_mm;
}

void paper_paint(cairo_t *cairo, const struct sheet *sheet, const struct sheet_window *window,
                 enum sheet_painted painted)
{
    for (const struct sheet_item *item = sheet->first; item; item = item->next) {
        bool words = item->kind == SHEET_WORDS;

        if (words ? painted == PAINT_SHAPES || !words_show(item, window) : painted == PAINT_WORDS)
            continue;
        if (painted == PAINT_WORDS && !is_anchored(item, window))
            continue;
        cairo_save(cairo);
        cairo_translate(cairo, item->x_mm, item->y_mm);
        if (item->kind == SHEET_CELLS)
            paint_cells(cairo, item, window);
        else if (item->kind == SHEET_PATH)
            paint_path(cairo, item, window);
        else
            paint_words(cairo, item);
        cairo_restore(cairo);
    }
}

cairo_t *paper_cairo_create(cairo_surface_t *surface)
{
    cairo_t *cairo = cairo_create(surface);
    cairo_font_options_t *options = cairo_font_options_create();

    /* else each letter of a picture is as wide as whole dots, and a line wider than measured */
    cairo_font_options_set_hint_metrics(options, CAIRO_HINT_METRICS_OFF);
    cairo_font_options_set_hint_style(options, CAIRO_HINT_STYLE_NONE);
    cairo_set_font_options(cairo, options);
    cairo_font_options_destroy(options);
    return cairo;
}
