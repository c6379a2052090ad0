/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>
#include <string.h>

#include "base/arena.h"
#include "base/shade.h"
#include "base/work.h"
#include "parts.h"
#include "plan/catches/rows.h"

static const double CELL_LARGEST_MM = 6.0;  /* no larger unasked */
static const double CELL_SMALLEST_MM = 3.5; /* smaller to stay on one page is hard to read */
static const double CELL_SMALLEST_DENTS_MM = 2.5; /* dots and bars alone: smaller will do */
static const double CELL_OVER_PAGES_MM = 5.0;
static const double CELL_STEP_MM = 0.2;
static const double HEAD_MM = 17.0, LINE_MM = 5.6;
static const double GAP_MM = 9.0;
static const double PICTURE_CELL_MM = 3.0;   /* a small repeat is not blown up beyond */
static const double PICTURE_TEXTURE_MM = 1.2; /* smaller stitches are too small for a texture */
static const double ALIKE_CONTRAST = 1.5; /* less than this in grey, and they need a texture */
enum { TEXTURED_MAX = 40000, FITTED_MAX = 10000 };
static const struct words_style WORDS_STYLE = {.width = 80};

double draw_column_x(const struct drawing *drawing, int column)
{
    int place = drawing->wrong_side ? column : drawing->ncols - 1 - column;

    return drawing->x_mm + place * drawing->cell_w_mm;
}

double draw_row_y(const struct drawing *drawing, int row)
{
    return drawing->y_mm + (drawing->nrows - 1 - row) * drawing->cell_h_mm;
}

double draw_middle_x(const struct drawing *drawing, int column)
{
    return draw_column_x(drawing, column) + drawing->cell_w_mm / 2;
}

double draw_middle_y(const struct drawing *drawing, int row)
{
    return draw_row_y(drawing, row) + drawing->cell_h_mm / 2;
}

double draw_mark_size_mm(const struct drawing *drawing)
{
    return fmin(drawing->cell_w_mm, drawing->cell_h_mm);
}

struct sheet_shade draw_shade(const struct drawing *drawing, int yarn)
{
    const unsigned char *rgb = drawing->plan->piece.yarns[yarn].rgb;

    return (struct sheet_shade){rgb[0], rgb[1], rgb[2]};
}

static double luminance(struct sheet_shade shade)
{
    const unsigned char rgb[3] = {shade.r, shade.g, shade.b};

    return shade_luminance(rgb);
}

struct sheet_shade draw_against(struct sheet_shade ground)
{
    double light = luminance(ground);

    if (shade_contrast(light, 0) >= shade_contrast(light, 1))
        return (struct sheet_shade){0, 0, 0};
    return (struct sheet_shade){255, 255, 255};
}

static unsigned char mix(unsigned char channel, double part)
{
    return (unsigned char)floor(255 - (255 - channel) * part + 0.5);
}

struct sheet_shade draw_tint(struct sheet_shade shade, double part)
{
    return (struct sheet_shade){mix(shade.r, part), mix(shade.g, part), mix(shade.b, part)};
}

/* Which yarns show, and which of them look alike in grey. */
static void look_over(struct drawing *drawing)
{
    int next_texture = TEXTURE_LYING;
    int rank = 0;
    /* On a chart of that size stitches are too small on paper for rules to be told apart. */
    bool textured = (int64_t)drawing->nrows * drawing->ncols <= TEXTURED_MAX;

    for (int row = 0; row < drawing->nrows; row++)
        for (int column = 0; column < drawing->ncols; column++) {
            uint8_t yarn = plan_drawn_cell(drawing->band, row, column, false);

            if (yarn == GRID_NO_STITCH)
                drawing->seen_empty = true;
            else
                drawing->seen[yarn] = true;
        }
    for (int yarn = 0; yarn < drawing->plan->piece.nyarns; yarn++) {
        double light = luminance(draw_shade(drawing, yarn));
        bool alike = false;

        drawing->rank[yarn] = drawing->plan->piece.yarns[yarn].over < 0 ? rank++ : 0;
        for (int other = 0; drawing->seen[yarn] && other < yarn; other++)
            if (drawing->seen[other] && drawing->texture[other] == TEXTURE_NONE)
                alike |= shade_contrast(light, luminance(draw_shade(drawing, other))) < ALIKE_CONTRAST;
        if (textured && alike && drawing->plan->piece.yarns[yarn].over < 0) {
            drawing->texture[yarn] = (enum draw_texture)next_texture;
            next_texture += next_texture < TEXTURE_CROSSED;
        }
    }
}

/* The widest stitch with which the chart stays on a page of that room. */
static double fitting_mm(const struct drawing *drawing, double width_mm, double height_mm,
                         double shape)
{
    double besides = HEAD_MM + LINE_MM * (2 + draw_legend_lines(drawing));
    double aside = drawing->show == DRAW_DENTS ? DRAW_BARS_ASIDE_MM : 0;
    double by_width = (width_mm - 16 - aside) / drawing->ncols;
    double below = drawing->show == DRAW_DENTS ? DRAW_BARS_BELOW_MM : 0;
    double by_height = (height_mm - besides - below) / drawing->nrows / shape;

    return floor(10 * fmin(by_width, by_height)) / 10;
}

static double smallest_mm(enum draw_show show)
{
    return show == DRAW_DENTS ? CELL_SMALLEST_DENTS_MM : CELL_SMALLEST_MM;
}

static double choose_cell_mm(const struct drawing *drawing, double shape)
{
    double upright = fitting_mm(drawing, SHEET_PAGE_WIDTH_MM, SHEET_PAGE_HEIGHT_MM, shape);
    double on_side = fitting_mm(drawing, SHEET_LONG_WIDTH_MM, SHEET_LONG_HEIGHT_MM, shape);
    double cell = fmin(fmax(upright, on_side), CELL_LARGEST_MM);

    return cell >= smallest_mm(drawing->show) ? cell : CELL_OVER_PAGES_MM;
}

static double shape_of(const struct plan *plan)
{
    return plan->piece.gauge.row_height_mm / plan->piece.gauge.stitch_width_mm;
}

struct drawing *draw_begin(struct work *work, const struct plan *plan, const struct plan_band *band,
                           enum draw_show show, bool wrong_side)
{
    struct drawing *drawing = arena_alloc(work->arena, 1, sizeof *drawing);
    struct plan_row first;

    drawing->work = work;
    drawing->plan = plan;
    drawing->band = band;
    drawing->page = (struct page){work, plan, &WORDS_STYLE, NULL};
    drawing->show = show;
    drawing->wrong_side = wrong_side;
    drawing->right_cols = band->right.ncols;
    drawing->ncols = band->right.ncols + band->drawn.ncols + band->left.ncols;
    drawing->nrows = band->rows;
    plan_row_read(work, plan, band, 0, 0, &first);
    drawing->first_row_right_side = first.right_side;
    look_over(drawing);
    return drawing;
}

struct sheet *draw_open_sheet(struct drawing *drawing, const struct draw_style *style)
{
    const struct plan *plan = drawing->plan;
    double shape = shape_of(plan);

    drawing->sheet = sheet_create(drawing->work);
    drawing->cell_w_mm = style->cell_mm > 0 ? style->cell_mm : choose_cell_mm(drawing, shape);
    drawing->cell_h_mm = drawing->cell_w_mm * shape;
    drawing->sheet->title = plan->title && *plan->title
                                ? arena_printf(drawing->work->arena, "%s: %s", plan->title,
                                               drawing->band->name)
                                : drawing->band->name;
    return drawing->sheet;
}

static bool is_one_page(const struct sheet *sheet)
{
    return sheet_way_on_page(sheet->width_mm, sheet->height_mm) != PAGE_NONE;
}

static struct sheet *draw_once(struct work *work, const struct plan *plan,
                               const struct plan_band *band, const struct draw_style *style)
{
    struct drawing *drawing = draw_begin(work, plan, band, style->show, style->wrong_side);
    struct sheet *sheet = draw_open_sheet(drawing, style);
    double numbers = draw_number_room_mm(drawing), below = LINE_MM;

    drawing->x_mm = numbers + (draw_has_bars(drawing) ? DRAW_BARS_ASIDE_MM : 0);
    sheet->width_mm = drawing->x_mm + drawing->ncols * drawing->cell_w_mm + numbers;
    drawing->y_mm = draw_head(drawing);
    if (drawing->wrong_side)
        draw_wrong_side(drawing);
    else
        draw_right_side(drawing);
    if (drawing->show == DRAW_CHANGES)
        draw_changes(drawing);
    draw_numbers(drawing);
    if (drawing->show == DRAW_DENTS)
        below += draw_dents(drawing);
    draw_key(drawing, numbers, below);
    return sheet;
}

struct sheet *draw_band(struct work *work, const struct plan *plan, const struct plan_band *band,
                        const struct draw_style *style)
{
    struct sheet *first = draw_once(work, plan, band, style);
    struct draw_style smaller = *style;

    /* where no size is asked for and it is just too large for a page, smaller until it is not */
    if (style->cell_mm > 0 || is_one_page(first) ||
        (int64_t)first->chart.ncols * first->chart.nrows > FITTED_MAX)
        return first;
    smaller.cell_mm = first->chart.cell_width_mm - CELL_STEP_MM;
    for (; smaller.cell_mm >= smallest_mm(style->show); smaller.cell_mm -= CELL_STEP_MM) {
        struct sheet *sheet = draw_once(work, plan, band, &smaller);

        if (is_one_page(sheet))
            return sheet;
    }
    return first;
}

/* --- small pictures -------------------------------------------------------------------- */

static double picture_cell_mm(const struct plan *plan, const struct plan_band *band, double width_mm,
                              double height_mm)
{
    int ncols = band->right.ncols + band->drawn.ncols + band->left.ncols;
    double cell = fmin(width_mm / ncols, height_mm / band->rows / shape_of(plan));

    return fmin(cell, PICTURE_CELL_MM);
}

double draw_picture_height_mm(const struct plan *plan, const struct plan_band *band, double width_mm,
                              double height_mm)
{
    return picture_cell_mm(plan, band, width_mm, height_mm) * shape_of(plan) * band->rows;
}

struct sheet *draw_picture(struct work *work, const struct plan *plan, const struct plan_band *band,
                           double width_mm, double height_mm)
{
    struct draw_style style = {.cell_mm = picture_cell_mm(plan, band, width_mm, height_mm)};
    struct drawing *drawing = draw_begin(work, plan, band, DRAW_BLANK, false);

    draw_open_sheet(drawing, &style)->title = band->name;
    drawing->sheet->width_mm = drawing->ncols * drawing->cell_w_mm;
    drawing->sheet->height_mm = drawing->nrows * drawing->cell_h_mm;
    draw_cells(drawing, 1);
    if (drawing->cell_w_mm >= PICTURE_TEXTURE_MM)
        draw_textures(drawing);
    draw_sewn(drawing);
    draw_edge(drawing);
    return drawing->sheet;
}

struct sheet *draw_stack(struct work *work, struct sheet *const *sheets, int nsheets)
{
    struct sheet *all = sheet_create(work);

    all->title = nsheets > 0 ? sheets[0]->title : "";
    for (int i = 0; i < nsheets; i++) {
        if (i > 0)
            all->height_mm += GAP_MM;
        sheet_put(all, sheets[i], 0, all->height_mm);
        all->width_mm = fmax(all->width_mm, sheets[i]->width_mm);
        all->height_mm += sheets[i]->height_mm;
    }
    return all;
}
