/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Sheets on paper (PDF). A chart too large for a page is cut between stitches, and every page has the
 * numbers of its stitches and rows; its head and key have a page to themselves.
 */
#include <cairo-pdf.h>
#include <math.h>

#include "base/arena.h"
#include "base/work.h"
#include "sheet_cairo.h"

static const double POINTS_PER_MM = 72.0 / 25.4;
static const double A4_SHORT_MM = 210.0, A4_LONG_MM = 297.0;
static const double MARGIN_MM = 10.0;
static const double FOOT_MM = 4.0;    /* below the drawing, for the number of the page */
static const double OVERLAP_MM = 10.0;
static const double GAP_MM = 8.0;     /* between two sheets on one page */
static const double TICK_MM = 4.0;

enum { PAGES_MAX = 400 };

static cairo_status_t take_bytes(void *out, const unsigned char *bytes, unsigned int nbytes)
{
    text_add_bytes(out, (const char *)bytes, nbytes);
    return CAIRO_STATUS_SUCCESS;
}

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
    sheet_paint_words(cairo, &item);
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
    struct sheet_window window = {x, y, x + tiling->width_mm, y + tiling->height_mm};

    cairo_save(cairo);
    cairo_rectangle(cairo, MARGIN_MM, MARGIN_MM, tiling->width_mm, tiling->height_mm);
    cairo_clip(cairo);
    cairo_translate(cairo, MARGIN_MM - x, MARGIN_MM - y);
    sheet_paint(cairo, sheet, &window, PAINT_ALL);
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
            return sheet_refuse(work, "The drawing has a place in it that cannot be reached.", NULL);
    if (count_pages(sheets, nsheets) > PAGES_MAX)
        return sheet_refuse(work, "The drawing would take more than 400 pages.",
                      "Choose smaller stitches: strandwise draw PROJECT --cell 2.");
    nsheets = gather_all(work, sheets, nsheets, gathered);
    if (book)
        numbering.pages = (int)count_pages(gathered, nsheets);
    surface = cairo_pdf_surface_create_for_stream(take_bytes, out, A4_SHORT_MM * POINTS_PER_MM,
                                                  A4_LONG_MM * POINTS_PER_MM);
    /* Pinned: the same plan must give the same file on any day. */
    cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_CREATE_DATE, "2000-01-01T00:00:00Z");
    cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_TITLE, title);
    cairo = sheet_cairo_create(surface);
    for (int i = 0; i < nsheets; i++)
        put_pages(cairo, work, gathered[i], &numbering);
    status = cairo_status(cairo);
    cairo_destroy(cairo);
    cairo_surface_finish(surface);
    if (status == CAIRO_STATUS_SUCCESS)
        status = cairo_surface_status(surface);
    cairo_surface_destroy(surface);
    if (status != CAIRO_STATUS_SUCCESS)
        return sheet_refuse(work, "The pages could not be drawn: there is not enough memory.",
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
