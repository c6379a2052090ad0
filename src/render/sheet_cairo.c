/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A sheet on paper (PDF) and as a picture (PNG). cairo draws; libpng writes the picture, because
 * cairo leaves out how large it is.
 */
#include <cairo-pdf.h>
#include <cairo.h>
#include <math.h>
#include <png.h>
#include <setjmp.h>
#include <stdlib.h>
#include <string.h>

#include "base/arena.h"
#include "base/diag.h"
#include "base/work.h"
#include "sheet.h"

static const double POINTS_PER_MM = 72.0 / 25.4;
static const double A4_SHORT_MM = 210.0, A4_LONG_MM = 297.0;
static const double MARGIN_MM = 10.0;
static const double FOOT_MM = 4.0;    /* below the drawing, for the number of the page */
static const double OVERLAP_MM = 10.0;
static const double GAP_MM = 8.0;     /* between two sheets on one page */
static const double TICK_MM = 4.0;

enum { PAGES_MAX = 400, PNG_SIDE_MAX = 20000 };

static void set_shade(cairo_t *cairo, struct sheet_shade shade)
{
    cairo_set_source_rgb(cairo, shade.r / 255.0, shade.g / 255.0, shade.b / 255.0);
}

/* The part of a sheet that is painted; what lies wholly outside is left out, or each of the pages of
 * a large chart would hold all of it. */
struct window {
    double x_mm, y_mm, x2_mm, y2_mm;
};

static const struct window EVERYTHING = {-HUGE_VAL, -HUGE_VAL, HUGE_VAL, HUGE_VAL};
static const double NEAR_MM = 5.0; /* lines are wider than their points */

static bool shows(const struct window *window, double x, double y, double x2, double y2)
{
    return x2 >= window->x_mm - NEAR_MM && x <= window->x2_mm + NEAR_MM &&
           y2 >= window->y_mm - NEAR_MM && y <= window->y2_mm + NEAR_MM;
}

static void paint_cells(cairo_t *cairo, const struct sheet_item *item, const struct window *window)
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
                       const struct window *window)
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

static void trace_path(cairo_t *cairo, const struct sheet_item *item, const struct window *window)
{
    for (size_t i = 0, end; i < item->count; i = end) {
        end = line_end(item, i);
        if (line_shows(item, i, end, window))
            trace_line(cairo, item, i, end);
    }
}

static void paint_path(cairo_t *cairo, const struct sheet_item *item, const struct window *window)
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
            double dash = item->dash_mm;

            cairo_set_line_cap(cairo, CAIRO_LINE_CAP_BUTT);
            cairo_set_dash(cairo, &dash, 1, 0);
        }
        cairo_stroke_preserve(cairo);
    }
    cairo_new_path(cairo);
}

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

static bool words_show(const struct sheet_item *item, const struct window *window)
{
    double width = sheet_words_width_mm(item->words, item->size_mm, item->bold) * 2; /* any face */

    return shows(window, item->x_mm - width, item->y_mm - item->size_mm, item->x_mm + width,
                 item->y_mm + item->size_mm);
}

static void paint(cairo_t *cairo, const struct sheet *sheet, const struct window *window)
{
    for (const struct sheet_item *item = sheet->first; item; item = item->next) {
        cairo_save(cairo);
        cairo_translate(cairo, item->x_mm, item->y_mm);
        if (item->kind == SHEET_CELLS)
            paint_cells(cairo, item, window);
        else if (item->kind == SHEET_PATH)
            paint_path(cairo, item, window);
        else if (words_show(item, window))
            paint_words(cairo, item);
        cairo_restore(cairo);
    }
}

static int refuse(struct work *work, const char *what, const char *todo)
{
    diag_add(work->diagnostics, DIAG_FILE_WRITE, (struct place){0}, what, todo);
    return -1;
}

static cairo_status_t take_bytes(void *out, const unsigned char *bytes, unsigned int nbytes)
{
    text_add_bytes(out, (const char *)bytes, nbytes);
    return CAIRO_STATUS_SUCCESS;
}

/* --- pages ----------------------------------------------------------------------------- */

/* How a sheet is laid over pages. */
struct tiling {
    double page_width_mm, page_height_mm; /* of the paper */
    double width_mm, height_mm;           /* room on it */
    int across, down;
};

static int tiles(double length_mm, double room_mm)
{
    if (length_mm <= room_mm + 0.01)
        return 1;
    return 1 + (int)ceil((length_mm - room_mm - 0.01) / (room_mm - OVERLAP_MM));
}

static struct tiling tile(const struct sheet *sheet, bool on_side)
{
    struct tiling tiling = {.page_width_mm = on_side ? A4_LONG_MM : A4_SHORT_MM,
                            .page_height_mm = on_side ? A4_SHORT_MM : A4_LONG_MM};

    tiling.width_mm = tiling.page_width_mm - 2 * MARGIN_MM;
    tiling.height_mm = tiling.page_height_mm - 2 * MARGIN_MM - FOOT_MM;
    tiling.across = tiles(sheet->width_mm, tiling.width_mm);
    tiling.down = tiles(sheet->height_mm, tiling.height_mm);
    return tiling;
}

static struct tiling tile_best(const struct sheet *sheet)
{
    struct tiling upright = tile(sheet, false), on_side = tile(sheet, true);

    return on_side.across * on_side.down < upright.across * upright.down ? on_side : upright;
}

static void rule(cairo_t *cairo, double x1, double y1, double x2, double y2)
{
    cairo_move_to(cairo, x1, y1);
    cairo_line_to(cairo, x2, y2);
    cairo_stroke(cairo);
}

/* Ticks in the margin where the next page is laid on: outside the drawing, so that nothing of it
 * is lost, at the line where that page's drawing begins. */
static void mark_overlap(cairo_t *cairo, const struct tiling *tiling, int column, int row)
{
    double right = MARGIN_MM + tiling->width_mm, bottom = MARGIN_MM + tiling->height_mm;
    double x[2], y[2];
    int nx = 0, ny = 0;

    if (column > 0)
        x[nx++] = MARGIN_MM + OVERLAP_MM;
    if (column + 1 < tiling->across)
        x[nx++] = right - OVERLAP_MM;
    if (row > 0)
        y[ny++] = MARGIN_MM + OVERLAP_MM;
    if (row + 1 < tiling->down)
        y[ny++] = bottom - OVERLAP_MM;
    cairo_set_source_rgb(cairo, 0, 0, 0);
    cairo_set_line_width(cairo, 0.3);
    for (int i = 0; i < nx; i++) {
        rule(cairo, x[i], MARGIN_MM - 1 - TICK_MM, x[i], MARGIN_MM - 1);
        rule(cairo, x[i], bottom + 1, x[i], bottom + 1 + TICK_MM);
    }
    for (int i = 0; i < ny; i++) {
        rule(cairo, MARGIN_MM - 1 - TICK_MM, y[i], MARGIN_MM - 1, y[i]);
        rule(cairo, right + 1, y[i], right + 1 + TICK_MM, y[i]);
    }
}

/* Of a book: which page this is, of how many. */
struct numbering {
    const char *title;
    int page, pages; /* pages 0: no book */
};

/* Clear of the ticks, where there are any. */
static double foot_indent_mm(const struct tiling *tiling)
{
    return tiling->across * tiling->down > 1 ? 4 * TICK_MM : 0;
}

static void put_foot_words(cairo_t *cairo, const struct tiling *tiling, enum sheet_anchor anchor,
                           double room_mm, const char *words)
{
    struct sheet_item item = {.size_mm = 2.6, .anchor = anchor, .room_mm = room_mm, .words = words};
    double in = foot_indent_mm(tiling);

    cairo_save(cairo);
    cairo_translate(cairo,
                    anchor == SHEET_END ? tiling->page_width_mm - MARGIN_MM - in : MARGIN_MM + in,
                    tiling->page_height_mm - MARGIN_MM + 1);
    paint_words(cairo, &item);
    cairo_restore(cairo);
}

/* "2 of 4: 2 from the left, 1 from the top": a page of a sheet that lies over several. */
static const char *tile_words(struct work *work, const struct tiling *tiling, int column, int row)
{
    return arena_printf(work->arena, "%d of %d: %d from the left, %d from the top",
                        row * tiling->across + column + 1, tiling->across * tiling->down,
                        column + 1, row + 1);
}

static void put_foot(cairo_t *cairo, struct work *work, const struct tiling *tiling, int column,
                     int row, const char *title)
{
    double room = tiling->width_mm - foot_indent_mm(tiling) - OVERLAP_MM - 2;

    if (tiling->across * tiling->down > 1)
        put_foot_words(cairo, tiling, SHEET_START, room,
                       arena_printf(work->arena,
                                    "Page %s; ticks show where the next page is laid on.%s%s",
                                    tile_words(work, tiling, column, row), *title ? " " : "", title));
}

static void put_book_foot(cairo_t *cairo, struct work *work, const struct tiling *tiling, int column,
                          int row, const char *title, const struct numbering *numbering)
{
    double room = tiling->width_mm - 2 * foot_indent_mm(tiling), number_room = 30;
    const char *words = *title ? title : numbering->title;

    if (tiling->across * tiling->down > 1)
        words = arena_printf(work->arena, "%s, sheet %s; lay the next one on at the ticks", title,
                             tile_words(work, tiling, column, row));
    put_foot_words(cairo, tiling, SHEET_START, room - number_room, words);
    put_foot_words(cairo, tiling, SHEET_END, number_room,
                   arena_printf(work->arena, "page %d of %d", numbering->page, numbering->pages));
}

static void put_page(cairo_t *cairo, struct work *work, const struct sheet *sheet,
                     const struct tiling *tiling, int column, int row, struct numbering *numbering)
{
    double x = column * (tiling->width_mm - OVERLAP_MM), y = row * (tiling->height_mm - OVERLAP_MM);
    struct window window = {x, y, x + tiling->width_mm, y + tiling->height_mm};

    cairo_save(cairo);
    cairo_rectangle(cairo, MARGIN_MM, MARGIN_MM, tiling->width_mm, tiling->height_mm);
    cairo_clip(cairo);
    cairo_translate(cairo, MARGIN_MM - x, MARGIN_MM - y);
    paint(cairo, sheet, &window);
    cairo_restore(cairo);
    mark_overlap(cairo, tiling, column, row);
    numbering->page++;
    if (numbering->pages > 0)
        put_book_foot(cairo, work, tiling, column, row, sheet->title, numbering);
    else
        put_foot(cairo, work, tiling, column, row, sheet->title);
}

static void put_pages(cairo_t *cairo, struct work *work, const struct sheet *sheet,
                      struct numbering *numbering)
{
    struct tiling tiling = tile_best(sheet);

    cairo_pdf_surface_set_size(cairo_get_target(cairo), tiling.page_width_mm * POINTS_PER_MM,
                               tiling.page_height_mm * POINTS_PER_MM);
    for (int row = 0; row < tiling.down; row++)
        for (int column = 0; column < tiling.across; column++) {
            cairo_save(cairo);
            cairo_scale(cairo, POINTS_PER_MM, POINTS_PER_MM);
            put_page(cairo, work, sheet, &tiling, column, row, numbering);
            cairo_restore(cairo);
            cairo_show_page(cairo);
        }
}

/* As many of the sheets from *next on as one upright page holds, on one sheet; at least one. */
static struct sheet *gather(struct work *work, struct sheet *const *sheets, int nsheets, int *next)
{
    struct sheet *page = sheet_create(work);
    int first = *next;

    page->title = sheets[first]->title;
    do {
        struct sheet *sheet = sheets[(*next)++];

        if (page->height_mm > 0)
            page->height_mm += GAP_MM;
        sheet_put(page, sheet, 0, page->height_mm);
        page->width_mm = fmax(page->width_mm, sheet->width_mm);
        page->height_mm += sheet->height_mm;
    } while (*next < nsheets && page->width_mm <= SHEET_PAGE_WIDTH_MM &&
             sheets[*next]->width_mm <= SHEET_PAGE_WIDTH_MM &&
             page->height_mm + GAP_MM + sheets[*next]->height_mm <= SHEET_PAGE_HEIGHT_MM);
    if (*next - first > 1)
        page->title = ""; /* the book's own says more than that of the first */
    return page;
}

static int64_t count_pages(struct sheet *const *sheets, int nsheets)
{
    int64_t pages = 0;

    for (int i = 0; i < nsheets; i++) {
        struct tiling tiling = tile_best(sheets[i]);

        pages += (int64_t)tiling.across * tiling.down;
    }
    return pages;
}

/* Small sheets together on one; returned: how many are left. */
static int gather_all(struct work *work, struct sheet *const *sheets, int nsheets,
                      struct sheet **gathered)
{
    int count = 0;

    for (int next = 0; next < nsheets;)
        gathered[count++] = gather(work, sheets, nsheets, &next);
    return count;
}

static int write_pages(struct work *work, struct sheet *const *sheets, int nsheets,
                       const char *title, bool book, struct text *out)
{
    struct sheet **gathered = arena_alloc(work->arena, (size_t)nsheets + 1, sizeof(struct sheet *));
    struct numbering numbering = {title, 0, 0};
    cairo_surface_t *surface;
    cairo_t *cairo;
    cairo_status_t status;

    for (int i = 0; i < nsheets; i++)
        if (!sheet_is_sound(sheets[i]))
            return refuse(work, "The drawing has a place in it that cannot be reached.", NULL);
    if (count_pages(sheets, nsheets) > PAGES_MAX)
        return refuse(work, "The drawing would take more than 400 pages.",
                      "Choose smaller stitches: strandwise draw PROJECT --cell 2.");
    nsheets = gather_all(work, sheets, nsheets, gathered);
    if (book)
        numbering.pages = (int)count_pages(gathered, nsheets);
    surface = cairo_pdf_surface_create_for_stream(take_bytes, out, A4_SHORT_MM * POINTS_PER_MM,
                                                  A4_LONG_MM * POINTS_PER_MM);
    /* Pinned: the same plan must give the same file on any day. */
    cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_CREATE_DATE, "2000-01-01T00:00:00Z");
    cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_TITLE, title);
    cairo = cairo_create(surface);
    for (int i = 0; i < nsheets; i++)
        put_pages(cairo, work, gathered[i], &numbering);
    status = cairo_status(cairo);
    cairo_destroy(cairo);
    cairo_surface_finish(surface);
    if (status == CAIRO_STATUS_SUCCESS)
        status = cairo_surface_status(surface);
    cairo_surface_destroy(surface);
    if (status != CAIRO_STATUS_SUCCESS)
        return refuse(work, "The pages could not be drawn: there is not enough memory.",
                      "Draw one band at a time: strandwise draw PROJECT --band NAME.");
    return 0;
}

int sheet_write_pdf(struct work *work, struct sheet *const *sheets, int nsheets, const char *title,
                    struct text *out)
{
    return write_pages(work, sheets, nsheets, title, false, out);
}

int sheet_write_book(struct work *work, struct sheet *const *sheets, int nsheets, const char *title,
                     struct text *out)
{
    return write_pages(work, sheets, nsheets, title, true, out);
}

/* --- picture --------------------------------------------------------------------------- */

struct png_out {
    struct text *out;
};

static void png_take(png_structp png, png_bytep bytes, size_t nbytes)
{
    struct png_out *to = png_get_io_ptr(png);

    text_add_bytes(to->out, (const char *)bytes, nbytes);
}

static void png_flush_nothing(png_structp png)
{
    (void)png;
}

/* rgb[3 * width]: one line of the picture, from cairo's 32-bit dots. */
static void take_dots(const unsigned char *line, int width, unsigned char *rgb)
{
    for (int x = 0; x < width; x++) {
        uint32_t dot;

        memcpy(&dot, line + 4 * (size_t)x, sizeof dot);
        rgb[3 * x] = (unsigned char)(dot >> 16 & 255);
        rgb[3 * x + 1] = (unsigned char)(dot >> 8 & 255);
        rgb[3 * x + 2] = (unsigned char)(dot & 255);
    }
}

/* Status: -1 where libpng had no memory. rgb: all lines. */
static int write_png(const unsigned char *rgb, int width, int height, double dots_per_mm,
                     struct png_out *to)
{
    png_structp png = png_create_write_struct(PNG_LIBPNG_VER_STRING, NULL, NULL, NULL);
    png_infop info = png ? png_create_info_struct(png) : NULL;
    png_uint_32 per_metre = (png_uint_32)floor(dots_per_mm * 1000 + 0.5);

    if (!info || setjmp(png_jmpbuf(png))) {
        png_destroy_write_struct(&png, &info);
        return -1;
    }
    png_set_write_fn(png, to, png_take, png_flush_nothing);
    png_set_IHDR(png, info, (png_uint_32)width, (png_uint_32)height, 8, PNG_COLOR_TYPE_RGB,
                 PNG_INTERLACE_NONE, PNG_COMPRESSION_TYPE_DEFAULT, PNG_FILTER_TYPE_DEFAULT);
    png_set_pHYs(png, info, per_metre, per_metre, PNG_RESOLUTION_METER);
    png_set_filter(png, 0, PNG_FILTER_NONE | PNG_FILTER_SUB | PNG_FILTER_UP);
    png_set_compression_level(png, 6);
    png_write_info(png, info);
    for (int y = 0; y < height; y++)
        png_write_row(png, rgb + 3 * (size_t)y * (size_t)width);
    png_write_end(png, info);
    png_destroy_write_struct(&png, &info);
    return 0;
}

int sheet_write_png(const struct sheet *sheet, double dots_per_mm, struct text *out)
{
    struct work *work = sheet->work;
    double width = ceil(sheet->width_mm * dots_per_mm), height = ceil(sheet->height_mm * dots_per_mm);
    struct png_out to = {.out = out};
    unsigned char *rgb;
    const unsigned char *dots;
    cairo_surface_t *surface;
    cairo_t *cairo;
    cairo_status_t status;

    if (!sheet_is_sound(sheet) || !(width >= 1 && height >= 1))
        return refuse(work, "The drawing has a place in it that cannot be reached.", NULL);
    if (width > PNG_SIDE_MAX || height > PNG_SIDE_MAX || width * height > 2e8)
        return refuse(work, "The picture would be too large.",
                      "Choose smaller stitches (--cell 2), or --as svg, which has no size to run out of.");
    rgb = arena_alloc(work->arena, 3 * (size_t)width * (size_t)height, 1);
    surface = cairo_image_surface_create(CAIRO_FORMAT_RGB24, (int)width, (int)height);
    cairo = cairo_create(surface);
    cairo_set_source_rgb(cairo, 1, 1, 1);
    cairo_paint(cairo);
    cairo_scale(cairo, dots_per_mm, dots_per_mm);
    paint(cairo, sheet, &EVERYTHING);
    status = cairo_status(cairo);
    cairo_surface_flush(surface);
    dots = cairo_image_surface_get_data(surface);
    for (int y = 0; status == CAIRO_STATUS_SUCCESS && y < (int)height; y++)
        take_dots(dots + (size_t)y * (size_t)cairo_image_surface_get_stride(surface), (int)width,
                  rgb + 3 * (size_t)y * (size_t)width);
    cairo_destroy(cairo);
    cairo_surface_destroy(surface);
    if (status != CAIRO_STATUS_SUCCESS || write_png(rgb, (int)width, (int)height, dots_per_mm, &to) != 0)
        return refuse(work, "The picture could not be drawn: there is not enough memory.",
                      "Choose smaller stitches: --cell 2.");
    return 0;
}
