/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A sheet as a picture (PNG). cairo draws; libpng writes, because cairo leaves out how large it is.
 */
#include <math.h>
#include <png.h>
#include <setjmp.h>
#include <stdlib.h>
#include <string.h>

#include "base/arena.h"
#include "base/work.h"
#include "cairo.h"
#include "paper.h"

/* 300, 150 and 72 dots to the inch, the finest that keeps a picture below the most dots. */
static const double DOTS_PER_MM[] = {300 / 25.4, 150 / 25.4, 72 / 25.4};
static const double PICTURE_SIDE_DOTS = 10000;

enum { PNG_SIDE_MAX = 20000 };

static void png_take(png_structp png, png_bytep bytes, size_t nbytes)
{
    text_add_bytes(png_get_io_ptr(png), (const char *)bytes, nbytes);
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
                     struct text *out)
{
    png_structp png = png_create_write_struct(PNG_LIBPNG_VER_STRING, NULL, NULL, NULL);
    png_infop info = png ? png_create_info_struct(png) : NULL;
    png_uint_32 per_metre = (png_uint_32)floor(dots_per_mm * 1000 + 0.5);

    if (!info || setjmp(png_jmpbuf(png))) {
        png_destroy_write_struct(&png, &info);
        return -1;
    }
    png_set_write_fn(png, out, png_take, png_flush_nothing);
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

/* As a picture of dots_per_mm, which it says in its head. */
static int write_sheet(const struct sheet *sheet, double dots_per_mm, struct text *out)
{
    struct work *work = sheet->work;
    const struct sheet_window everything = {-HUGE_VAL, -HUGE_VAL, HUGE_VAL, HUGE_VAL};
    double width = ceil((sheet->width_mm + 2 * SHEET_EDGE_MM) * dots_per_mm);
    double height = ceil((sheet->height_mm + 2 * SHEET_EDGE_MM) * dots_per_mm);
    unsigned char *rgb;
    const unsigned char *dots;
    cairo_surface_t *surface;
    cairo_t *cairo;
    cairo_status_t status;

    if (!sheet_is_sound(sheet) || !(width >= 1 && height >= 1))
        return sheet_refuse(work, "The drawing has a place in it that cannot be reached.", NULL);
    if (width > PNG_SIDE_MAX || height > PNG_SIDE_MAX || width * height > 2e8)
        return sheet_refuse(work, "The picture would be too large.",
                      "Choose smaller stitches (--cell 2), or --as svg, which has no size to run out of.");
    rgb = arena_alloc(work->arena, 3 * (size_t)width * (size_t)height, 1);
    surface = cairo_image_surface_create(CAIRO_FORMAT_RGB24, (int)width, (int)height);
    cairo = paper_cairo_create(surface);
    cairo_set_source_rgb(cairo, 1, 1, 1);
    cairo_paint(cairo);
    cairo_scale(cairo, dots_per_mm, dots_per_mm);
    cairo_translate(cairo, SHEET_EDGE_MM, SHEET_EDGE_MM);
    paper_paint(cairo, sheet, &everything, PAINT_ALL);
    status = cairo_status(cairo);
    cairo_surface_flush(surface);
    dots = cairo_image_surface_get_data(surface);
    for (int y = 0; status == CAIRO_STATUS_SUCCESS && y < (int)height; y++)
        take_dots(dots + (size_t)y * (size_t)cairo_image_surface_get_stride(surface), (int)width,
                  rgb + 3 * (size_t)y * (size_t)width);
    cairo_destroy(cairo);
    cairo_surface_destroy(surface);
    if (status != CAIRO_STATUS_SUCCESS || write_png(rgb, (int)width, (int)height, dots_per_mm, out) != 0)
        return sheet_refuse(work, "The picture could not be drawn: there is not enough memory.",
                      "Choose smaller stitches: --cell 2.");
    return 0;
}

int paper_write_png(const struct sheet *sheet, struct text *out)
{
    double longest = fmax(sheet->width_mm, sheet->height_mm);
    size_t choice = 0, last = sizeof DOTS_PER_MM / sizeof DOTS_PER_MM[0] - 1;

    while (choice < last && longest * DOTS_PER_MM[choice] > PICTURE_SIDE_DOTS)
        choice++;
    return write_sheet(sheet, DOTS_PER_MM[choice], out);
}

int paper_write_dots(struct work *work, const unsigned char *rgb, int width, int height, struct text *out)
{
    png_image image = {.version = PNG_IMAGE_VERSION,
                       .width = (png_uint_32)width,
                       .height = (png_uint_32)height,
                       .format = PNG_FORMAT_RGB};
    png_alloc_size_t nbytes = PNG_IMAGE_PNG_SIZE_MAX(image);
    unsigned char *bytes = arena_alloc(work->arena, nbytes, 1);

    if (!png_image_write_to_memory(&image, bytes, &nbytes, 0, rgb, 0, NULL))
        return -1;
    text_add_bytes(out, (const char *)bytes, nbytes);
    return 0;
}
