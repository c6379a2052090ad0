/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Pictures unpacked by libpng: red, green, blue and alpha, eight bits each, whatever the file holds.
 */
#include <png.h>
#include <string.h>

#include "base/arena.h"
#include "base/work.h"
#include "disk.h"

enum { CHUNK_BYTES_MAX = 1 << 20 }; /* of notes and profiles in the file */

struct reader {
    const struct unpacking *unpacking;
    size_t read; /* bytes libpng has taken */
    bool cut_short;
};

static void bytes_take(png_structp png, png_bytep out, size_t nbytes)
{
    struct reader *reader = png_get_io_ptr(png);

    if (nbytes > reader->unpacking->nbytes - reader->read) {
        reader->cut_short = true;
        png_error(png, "cut short");
    }
    memcpy(out, reader->unpacking->bytes + reader->read, nbytes);
    reader->read += nbytes;
}

static void warning_ignore(png_structp png, png_const_charp message)
{
    (void)png;
    (void)message;
}

/* The core has words of its own for it; libpng's are no knitter's. */
static PNG_NORETURN void error_leave(png_structp png, png_const_charp message)
{
    (void)message;
    png_longjmp(png, 1);
}

static void set_up(png_structp png, struct reader *reader)
{
    png_set_read_fn(png, reader, bytes_take);
    png_set_user_limits(png, (png_uint_32)reader->unpacking->width, (png_uint_32)reader->unpacking->height);
    png_set_chunk_cache_max(png, 64);
    png_set_chunk_malloc_max(png, CHUNK_BYTES_MAX);
}

/* rows: one row, or all of an interlaced picture. Leaves by png_longjmp() on any fault. */
static void rows_pass(png_structp png, png_infop info, const struct unpacking *unpacking, png_bytepp rows)
{
    png_read_info(png, info);
    png_set_expand(png);
    png_set_scale_16(png);
    png_set_gray_to_rgb(png);
    png_set_add_alpha(png, 255, PNG_FILLER_AFTER);
    png_set_interlace_handling(png);
    png_read_update_info(png, info);
    if (png_get_rowbytes(png, info) != 4 * (size_t)unpacking->width)
        png_error(png, "unexpected form");
    if (unpacking->interlaced)
        png_read_image(png, rows);
    for (long y = 0; y < unpacking->height; y++) {
        if (!unpacking->interlaced)
            png_read_row(png, rows[0], NULL);
        if (!unpacking->take(unpacking->data, y, rows[unpacking->interlaced ? y : 0]))
            return;
    }
    png_read_end(png, info);
}

static png_bytepp rows_make(struct work *work, const struct unpacking *unpacking)
{
    size_t count = unpacking->interlaced ? (size_t)unpacking->height : 1, width = 4 * (size_t)unpacking->width;
    png_bytepp rows = arena_alloc(work->arena, count, sizeof *rows);

    for (size_t i = 0; i < count; i++)
        rows[i] = arena_alloc(work->arena, width, 1);
    return rows;
}

/* Nothing is taken from the arena once libpng has memory, which would not give it back. */
enum unpacked disk_unpack_png(struct work *work, const struct unpacking *unpacking)
{
    png_bytepp rows = rows_make(work, unpacking);
    struct reader reader = {unpacking, 0, false};
    png_structp png =
        png_create_read_struct(PNG_LIBPNG_VER_STRING, NULL, error_leave, warning_ignore);
    png_infop info = png ? png_create_info_struct(png) : NULL;

    if (!info) {
        png_destroy_read_struct(&png, NULL, NULL);
        return UNPACKED_DAMAGED;
    }
    if (setjmp(png_jmpbuf(png))) {
        png_destroy_read_struct(&png, &info, NULL);
        return reader.cut_short ? UNPACKED_CUT_SHORT : UNPACKED_DAMAGED;
    }
    set_up(png, &reader);
    rows_pass(png, info, unpacking, rows);
    png_destroy_read_struct(&png, &info, NULL);
    return UNPACKED;
}
