/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Sheets laid out on pages of paper. A chart too large for a page is cut between stitches, and every page has the
 * numbers of its stitches and rows; its head and key have a page to themselves.
 */
#include <math.h>

#include "base/arena.h"
#include "base/work.h"
#include "sheet.h"

static const double A4_SHORT_MM = 210.0, A4_LONG_MM = 297.0;
static const double MARGIN_MM = 10.0;
static const double FOOT_MM = 4.0;    /* below the drawing, for the number of the page */
static const double OVERLAP_MM = 10.0;
static const double GAP_MM = 8.0;     /* between two sheets on one page */
static const double TICK_MM = 4.0;
static const double OUTLINE_MM = 0.7; /* reaches beyond the stitches */

enum { PAGES_MAX = 400 };

/* The book being made. */
struct layout {
    struct work *work;
    struct sheet_book *book;
    bool numbered; /* its pages say so in their feet */
    int pages;     /* of the whole */
};

/* How a sheet is laid over pages. */
struct tiling {
    double page_width_mm, page_height_mm; /* of the paper */
    double width_mm, height_mm;           /* room on it */
    int across, down;
    bool of_chart;                        /* cut between stitches, with the key on a page before */
    int cols, rows;                       /* of a chart: stitches and rows of a page, */
    int cols_twice, rows_twice;           /* and of them on the next page too */
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

/* `count` stitches over as few pages as may be, all with as many, no more than fit.
 * Returned: pages; *each: stitches of a page, *twice: of them on the next page too. */
static int share_out(int count, double cell_mm, double room_mm, int *each, int *twice)
{
    int fit = room_mm >= cell_mm ? (int)floor(room_mm / cell_mm + 1e-6) : 1, pages;

    *each = count;
    *twice = 0;
    if (count <= fit)
        return 1;
    *twice = (int)fmin(fmax(1, floor(OVERLAP_MM / cell_mm)), fit / 2);
    pages = 1 + (count - fit + fit - *twice - 1) / (fit - *twice);
    *each = (count + (pages - 1) * *twice + pages - 1) / pages;
    return pages;
}

static struct tiling tile_chart(const struct sheet *sheet, bool on_side)
{
    const struct sheet_chart *chart = &sheet->chart;
    struct tiling tiling = tile(sheet, on_side);
    double width = tiling.width_mm - chart->x_mm - chart->right_mm;
    double height = tiling.height_mm - OUTLINE_MM - chart->below_mm;

    tiling.of_chart = true;
    tiling.across = share_out(chart->ncols, chart->cell_width_mm, width, &tiling.cols,
                              &tiling.cols_twice);
    tiling.down = share_out(chart->nrows, chart->cell_height_mm, height, &tiling.rows,
                            &tiling.rows_twice);
    return tiling;
}

static struct tiling tile_best(const struct sheet *sheet)
{
    struct tiling upright = tile(sheet, false), on_side = tile(sheet, true);

    if (upright.across * upright.down > 1 && on_side.across * on_side.down > 1 &&
        sheet->chart.nrows > 0) {
        upright = tile_chart(sheet, false);
        on_side = tile_chart(sheet, true);
    }
    return on_side.across * on_side.down < upright.across * upright.down ? on_side : upright;
}

static int tiling_pages(const struct tiling *tiling)
{
    return tiling->across * tiling->down + tiling->of_chart;
}

/* --- a page and its margin -------------------------------------------------------------- */

static struct sheet_page *add_page(struct layout *layout, const struct tiling *tiling)
{
    struct sheet_page *page = &layout->book->page[layout->book->npages++];

    page->width_mm = tiling->page_width_mm;
    page->height_mm = tiling->page_height_mm;
    page->margin = sheet_create(layout->work);
    return page;
}

static void add_part(struct sheet_page *page, const struct sheet *sheet, struct sheet_window window,
                     double x_mm, double y_mm, enum sheet_painted painted)
{
    page->part[page->nparts++] = (struct sheet_part){sheet, window, x_mm, y_mm, 1, painted};
}

/* A stretch of a drawing that goes on over several pages, and how much of it stands on the next one too. */
struct stretch {
    double from_mm, length_mm, twice_mm;
    bool begins, ends; /* nothing before it, behind it */
};

/* Where that part begins, from either end. Returned: how many. */
static int tick_places(const struct stretch *stretch, double at_mm[2])
{
    int n = 0;

    if (!stretch->begins)
        at_mm[n++] = stretch->from_mm + stretch->twice_mm;
    if (!stretch->ends)
        at_mm[n++] = stretch->from_mm + stretch->length_mm - stretch->twice_mm;
    return n;
}

/* Ticks in the margin, outside the drawing, so that nothing of it is lost. below: there too, else there is
 * the foot. */
static void put_ticks(struct sheet_page *page, const struct stretch *across, const struct stretch *down, bool below)
{
    struct sheet_item *path = sheet_add_path(page->margin, (struct sheet_shade){0, 0, 0}, 0.3);
    double near = MARGIN_MM - 1, right = page->width_mm - MARGIN_MM + 1;
    double under = down->from_mm + down->length_mm + 1, at[2];
    int n = tick_places(across, at);

    path->square_ends = true;
    for (int i = 0; i < n; i++) {
        sheet_move(page->margin, path, at[i], near - TICK_MM);
        sheet_line(page->margin, path, at[i], near);
        if (!below)
            continue;
        sheet_move(page->margin, path, at[i], under);
        sheet_line(page->margin, path, at[i], under + TICK_MM);
    }
    n = tick_places(down, at);
    for (int i = 0; i < n; i++) {
        sheet_move(page->margin, path, near - TICK_MM, at[i]);
        sheet_line(page->margin, path, near, at[i]);
        sheet_move(page->margin, path, right, at[i]);
        sheet_line(page->margin, path, right + TICK_MM, at[i]);
    }
}

/* Clear of the ticks, where there are any. */
static double foot_indent_mm(const struct tiling *tiling)
{
    return tiling->across * tiling->down > 1 ? 4 * TICK_MM : 0;
}

static void put_foot_words(struct sheet_page *page, const struct tiling *tiling, enum sheet_anchor anchor,
                           double room_mm, const char *words)
{
    double in = MARGIN_MM + foot_indent_mm(tiling);
    struct sheet_item *item =
        sheet_add_words(page->margin, anchor == SHEET_END ? tiling->page_width_mm - in : in,
                        tiling->page_height_mm - MARGIN_MM + 1, 2.6, anchor, words);

    item->room_mm = room_mm;
}

/* "2 of 4: 2 from the left, 1 from the top": a page of a sheet that lies over several. */
static const char *tile_words(struct work *work, const struct tiling *tiling, int column, int row)
{
    return arena_printf(work->arena, "%d of %d: %d from the left, %d from the top",
                        row * tiling->across + column + 1, tiling->across * tiling->down,
                        column + 1, row + 1);
}

static const char *tick_words(const struct tiling *tiling)
{
    return tiling->of_chart ? "what is beyond a tick is on the next page too"
                            : "ticks show where the next page is laid on";
}

/* Of a book: which page this is, of how many; else of a sheet over several pages which of them. */
static void put_foot(struct layout *layout, struct sheet_page *page, const struct tiling *tiling, int column,
                     int row, const char *title)
{
    struct work *work = layout->work;
    double room = tiling->width_mm - 2 * foot_indent_mm(tiling), number_room = 30;
    const char *words = *title ? title : layout->book->title;
    bool tiled = tiling->across * tiling->down > 1;

    if (layout->numbered) {
        if (tiled)
            words = arena_printf(work->arena, "%s, sheet %s; %s", title, tile_words(work, tiling, column, row),
                                 tick_words(tiling));
        put_foot_words(page, tiling, SHEET_START, room - number_room, words);
        put_foot_words(page, tiling, SHEET_END, number_room,
                       arena_printf(work->arena, "page %d of %d", layout->book->npages, layout->pages));
    } else if (tiled) {
        put_foot_words(page, tiling, SHEET_START,
                       tiling->width_mm - foot_indent_mm(tiling) - OVERLAP_MM - 2,
                       arena_printf(work->arena, "Page %s; %s.%s%s", tile_words(work, tiling, column, row),
                                    tick_words(tiling), *title ? " " : "", title));
    }
}

/* Cut anywhere; a tick is where the drawing of the next page begins. */
static void put_tile(struct sheet_page *page, const struct sheet *sheet, const struct tiling *tiling,
                     int column, int row)
{
    double x = column * (tiling->width_mm - OVERLAP_MM), y = row * (tiling->height_mm - OVERLAP_MM);
    struct stretch across = {MARGIN_MM, tiling->width_mm, OVERLAP_MM, column == 0, column + 1 == tiling->across};
    struct stretch down = {MARGIN_MM, tiling->height_mm, OVERLAP_MM, row == 0, row + 1 == tiling->down};

    add_part(page, sheet, (struct sheet_window){x, y, x + tiling->width_mm, y + tiling->height_mm}, MARGIN_MM,
             MARGIN_MM, PAINT_ALL);
    put_ticks(page, &across, &down, true);
}

/* --- a chart over several pages ------------------------------------------------------------ */

/* Its stitches from..end - 1 across, rows likewise from the top. */
struct chart_tile {
    int first_col, end_col, first_row, end_row;
};

static struct chart_tile chart_tile(const struct sheet_chart *chart, const struct tiling *tiling,
                                    int column, int row)
{
    struct chart_tile tile = {.first_col = column * (tiling->cols - tiling->cols_twice),
                              .first_row = row * (tiling->rows - tiling->rows_twice)};

    tile.end_col = (int)fmin(chart->ncols, tile.first_col + tiling->cols);
    tile.end_row = (int)fmin(chart->nrows, tile.first_row + tiling->rows);
    return tile;
}

/* The stitches of the page, and round them what belongs to its rows and columns. */
static void put_chart_tile(struct sheet_page *page, const struct sheet *sheet, const struct tiling *tiling,
                           int column, int row)
{
    const struct sheet_chart *chart = &sheet->chart;
    struct chart_tile tile = chart_tile(chart, tiling, column, row);
    double x = chart->x_mm + tile.first_col * chart->cell_width_mm;
    double x2 = chart->x_mm + tile.end_col * chart->cell_width_mm;
    double y = chart->y_mm + tile.first_row * chart->cell_height_mm;
    double y2 = chart->y_mm + tile.end_row * chart->cell_height_mm;
    double right = chart->x_mm + chart->ncols * chart->cell_width_mm;
    double bottom = chart->y_mm + chart->nrows * chart->cell_height_mm;
    double page_x = MARGIN_MM + chart->x_mm, page_y = MARGIN_MM + OUTLINE_MM;
    struct sheet_window stitches = {x - (tile.first_col > 0 ? 0 : OUTLINE_MM),
                                    y - (tile.first_row > 0 ? 0 : OUTLINE_MM),
                                    x2 + (tile.end_col < chart->ncols ? 0 : OUTLINE_MM),
                                    y2 + (tile.end_row < chart->nrows ? 0 : OUTLINE_MM)};
    struct sheet_window beside[3] = {
        {0, y, chart->x_mm - OUTLINE_MM, y2},
        {right + OUTLINE_MM, y, right + chart->right_mm, y2},
        {x, bottom + OUTLINE_MM, x2, bottom + chart->below_mm},
    };
    double at_x[3] = {MARGIN_MM, page_x + x2 - x + OUTLINE_MM, page_x};
    double at_y[3] = {page_y, page_y, page_y + y2 - y + OUTLINE_MM};

    add_part(page, sheet, stitches, page_x + stitches.x_mm - x, page_y + stitches.y_mm - y, PAINT_SHAPES);
    for (int i = 0; i < 3; i++) {
        add_part(page, sheet, beside[i], at_x[i], at_y[i], PAINT_SHAPES);
        add_part(page, sheet, beside[i], at_x[i], at_y[i], PAINT_WORDS);
    }
    put_ticks(page,
              &(struct stretch){page_x, x2 - x, tiling->cols_twice * chart->cell_width_mm, tile.first_col == 0,
                                tile.end_col == chart->ncols},
              &(struct stretch){page_y, y2 - y, tiling->rows_twice * chart->cell_height_mm, tile.first_row == 0,
                                tile.end_row == chart->nrows},
              false);
}

/* Head and key together on a page, smaller where they would not have room. */
static void put_key(struct layout *layout, const struct sheet *sheet, int pages)
{
    const struct sheet_chart *chart = &sheet->chart;
    double below = chart->y_mm + chart->nrows * chart->cell_height_mm + chart->below_mm;
    struct sheet key = {.width_mm = chart->key_width_mm,
                        .height_mm = chart->y_mm + sheet->height_mm - below};
    struct tiling upright = tile(&key, false), on_side = tile(&key, true);
    struct tiling tiling = upright.across * upright.down > 1 && on_side.across * on_side.down == 1
                               ? on_side
                               : upright;
    double scale = fmin(1, fmin(tiling.width_mm / key.width_mm, tiling.height_mm / key.height_mm));
    struct sheet_window head = {-1, 0, key.width_mm, chart->y_mm};
    struct sheet_window legend = {-1, below, key.width_mm + 1, sheet->height_mm};
    struct sheet_page *page = add_page(layout, &tiling);

    tiling.across = tiling.down = 1;
    add_part(page, sheet, head, MARGIN_MM - scale, MARGIN_MM, PAINT_WORDS);
    add_part(page, sheet, legend, MARGIN_MM - scale, MARGIN_MM + scale * chart->y_mm, PAINT_ALL);
    page->part[0].scale = page->part[1].scale = scale;
    put_foot(layout, page, &tiling, 0, 0, sheet->title);
    if (!layout->numbered)
        put_foot_words(page, &tiling, SHEET_START, tiling.width_mm,
                       arena_printf(layout->work->arena, "The chart is on the %d pages after this one.%s%s",
                                    pages, *sheet->title ? " " : "", sheet->title));
}

static void put_pages(struct layout *layout, const struct sheet *sheet)
{
    struct tiling tiling = tile_best(sheet);

    if (tiling.of_chart)
        put_key(layout, sheet, tiling.across * tiling.down);
    for (int row = 0; row < tiling.down; row++)
        for (int column = 0; column < tiling.across; column++) {
            struct sheet_page *page = add_page(layout, &tiling);

            if (tiling.of_chart)
                put_chart_tile(page, sheet, &tiling, column, row);
            else
                put_tile(page, sheet, &tiling, column, row);
            put_foot(layout, page, &tiling, column, row, sheet->title);
        }
}

/* As many of the sheets from *next on as one upright page holds, on one sheet; at least one. */
static struct sheet *gather(struct work *work, struct sheet *const *sheets, int nsheets, int *next)
{
    struct sheet *page = sheet_create(work);
    int first = *next;

    page->title = sheets[first]->title;
    page->chart = sheets[first]->chart; /* no page with others on it is too small */
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

        pages += tiling_pages(&tiling);
    }
    return pages;
}

int sheet_lay_out(struct work *work, const struct sheets *sheets, struct sheet_book *book)
{
    struct sheet **gathered = arena_alloc(work->arena, (size_t)sheets->count + 1, sizeof(struct sheet *));
    struct layout layout = {work, book, sheets->book, 0};
    int ngathered = 0;

    for (int i = 0; i < sheets->count; i++)
        if (!sheet_is_sound(sheets->sheet[i]))
            return sheet_refuse(work, "The drawing has a place in it that cannot be reached.", NULL);
    if (count_pages(sheets->sheet, sheets->count) > PAGES_MAX)
        return sheet_refuse(work, "The drawing would take more than 400 pages.",
                      "Choose smaller stitches: strandwise draw PROJECT --cell 2.");
    for (int next = 0; next < sheets->count;)
        gathered[ngathered++] = gather(work, sheets->sheet, sheets->count, &next);
    layout.pages = (int)count_pages(gathered, ngathered);
    *book = (struct sheet_book){.title = sheets->title};
    book->page = arena_alloc(work->arena, (size_t)layout.pages + 1, sizeof *book->page);
    for (int i = 0; i < ngathered; i++)
        put_pages(&layout, gathered[i]);
    return 0;
}
