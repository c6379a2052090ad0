/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Charts drawn as pictures. The pictures are made here, by libpng's writing half.
 */
#include <CUnit/Basic.h>
#include <png.h>

#include "app/disk.h"
#include "base/arena.h"
#include "base/work.h"
#include "read/chart/chart.h"
#include "seen.h"

extern CU_TestInfo tests_chart_png[];

enum { CREAM, SLATE, CORAL, PLUM };

static struct work work_create(void)
{
    struct work work = {.arena = arena_create((size_t)1 << 29), .outside = &disk};

    work.diagnostics = diagnostics_create(work.arena);
    return work;
}

/* Cream #f3ead7, slate #334455, coral #ff7f50, plum (no shade); nshades: how many have one. */
static struct project *project_make(struct work *work, int nshades)
{
    static const char *const names[] = {"cream", "slate", "coral", "plum"};
    static const unsigned char rgb[4][3] = {
        {0xf3, 0xea, 0xd7}, {0x33, 0x44, 0x55}, {0xff, 0x7f, 0x50}, {0x80, 0x80, 0x80}};
    struct project *project = arena_alloc(work->arena, 1, sizeof *project);

    project->nyarns = 4;
    project->yarns = arena_alloc(work->arena, 4, sizeof *project->yarns);
    for (int i = 0; i < 4; i++) {
        project->yarns[i].name = names[i];
        memcpy(project->yarns[i].rgb, rgb[i], 3);
        project->yarns[i].shade.text = i < nshades ? names[i] : NULL;
    }
    return project;
}

/* --- making pictures ----------------------------------------------------------------- */

struct bytes {
    struct arena *arena;
    char *bytes;
    size_t length, room;
};

static void bytes_put(png_structp png, png_bytep data, size_t nbytes)
{
    struct bytes *b = png_get_io_ptr(png);

    if (b->length + nbytes > b->room) {
        size_t room = 2 * (b->length + nbytes) + 1024;

        b->bytes = arena_grow(b->arena, b->bytes, b->room, room, 1);
        b->room = room;
    }
    memcpy(b->bytes + b->length, data, nbytes);
    b->length += nbytes;
}

static void bytes_flush(png_structp png)
{
    (void)png;
}

struct form {
    int colour_type, depth, interlace;
};

static const struct form rgba = {PNG_COLOR_TYPE_RGB_ALPHA, 8, PNG_INTERLACE_NONE};

/* rows: as the form wants them, the topmost first; row_bytes each. */
static const struct source *png_make(struct work *work, struct form form, int width, int height,
                                     const unsigned char *rows, size_t row_bytes,
                                     const png_color *palette, const unsigned char *palette_alpha,
                                     int ncolours)
{
    struct bytes out = {.arena = work->arena};
    png_structp png = png_create_write_struct(PNG_LIBPNG_VER_STRING, NULL, NULL, NULL);
    png_infop info = png_create_info_struct(png);
    png_bytepp row = arena_alloc(work->arena, (size_t)height, sizeof *row);
    struct source *source = arena_alloc(work->arena, 1, sizeof *source);

    for (int y = 0; y < height; y++) {
        row[y] = arena_alloc(work->arena, row_bytes, 1);
        memcpy(row[y], rows + (size_t)y * row_bytes, row_bytes);
    }
    png_set_write_fn(png, &out, bytes_put, bytes_flush);
    png_set_IHDR(png, info, (png_uint_32)width, (png_uint_32)height, form.depth, form.colour_type,
                 form.interlace, PNG_COMPRESSION_TYPE_DEFAULT, PNG_FILTER_TYPE_DEFAULT);
    if (palette)
        png_set_PLTE(png, info, palette, ncolours);
    if (palette_alpha)
        png_set_tRNS(png, info, palette_alpha, ncolours, NULL);
    png_write_info(png, info);
    png_write_image(png, row);
    png_write_end(png, NULL);
    png_destroy_write_struct(&png, &info);
    source->name = "boat.png";
    source->bytes = out.bytes;
    source->nbytes = out.length;
    return source;
}

/* The colour of a letter: . cream, x slate, o coral, - transparent, and some near misses. */
static void letter_paint(char letter, unsigned char pixel[4])
{
    static const struct {
        char letter;
        unsigned char pixel[4];
    } paints[] = {
        {'.', {0xf3, 0xea, 0xd7, 255}}, {'x', {0x33, 0x44, 0x55, 255}},
        {'o', {0xff, 0x7f, 0x50, 255}}, {'-', {0x33, 0x44, 0x55, 0}},
        {'w', {0xff, 0xff, 0xff, 255}}, {'k', {0x00, 0x00, 0x00, 255}},
        {'n', {0x20, 0x28, 0x40, 255}}, {'s', {0x3c, 0x50, 0x64, 255}},
        {'r', {0xff, 0x00, 0x00, 255}}, {'h', {0x33, 0x44, 0x55, 40}},
    };

    for (size_t i = 0; i < sizeof paints / sizeof *paints; i++)
        if (paints[i].letter == letter)
            memcpy(pixel, paints[i].pixel, 4);
}

/* Rows of letters, top first, NULL at the end; each letter a square of block pixels. */
static unsigned char *paint(struct work *work, const char *const *rows, int block, int *width,
                            int *height)
{
    unsigned char *pixels;

    *width = (int)strlen(rows[0]) * block;
    for (*height = 0; rows[*height];)
        ++*height;
    *height *= block;
    pixels = arena_alloc(work->arena, (size_t)*width * (size_t)*height, 4);
    for (int y = 0; y < *height; y++)
        for (int x = 0; x < *width; x++)
            letter_paint(rows[y / block][x / block],
                         pixels + 4 * ((size_t)y * (size_t)*width + (size_t)x));
    return pixels;
}

static const struct source *picture(struct work *work, const char *const *rows, int block)
{
    int width, height;
    unsigned char *pixels = paint(work, rows, block, &width, &height);

    return png_make(work, rgba, width, height, pixels, 4 * (size_t)width, NULL, NULL, 0);
}

static const struct chart *read_png(struct work *work, const struct source *source, int across)
{
    return chart_read_png(work, project_make(work, 3), source, across, (struct place){0});
}

static void check_grid(const struct grid *grid, const char *const *rows)
{
    static const char marks[] = ".xo";
    int nrows = 0;

    while (rows[nrows])
        nrows++;
    CU_ASSERT_EQUAL_FATAL(grid->nrows, nrows);
    for (int row = 0; row < nrows; row++)
        for (int col = 0; col < grid->ncols; col++) {
            uint8_t cell = grid->cell[row * grid->ncols + col];
            char mark = cell == GRID_NO_STITCH ? '-' : cell < 3 ? marks[cell] : '?';

            CU_ASSERT_EQUAL_FATAL(grid->ncols, (int)strlen(rows[nrows - 1 - row]));
            CU_ASSERT_EQUAL(mark, rows[nrows - 1 - row][grid->ncols - 1 - col]);
        }
}

/* A picture with no symmetry, so that a turned or mirrored reading shows. */
static const char *const boat[] = {"...x..", "..xx-.", ".xxx..", "o.xxxx", NULL};

/* --- what reads ---------------------------------------------------------------------- */

static void pixel_a_stitch(void)
{
    struct work work = work_create();
    const struct chart *chart = read_png(&work, picture(&work, boat, 1), 0);

    CU_ASSERT_FATAL(chart != NULL);
    check_grid(&chart->repeat, boat);
    CU_ASSERT_EQUAL(chart->left.ncols + chart->right.ncols, 0);
    CU_ASSERT_STRING_EQUAL(chart->name, "boat.png");
    /* cream 12, slate 10, coral 1, one square without a stitch: counted by hand */
    CU_ASSERT_EQUAL(seen_all(&work), 1);
    CU_ASSERT(seen_find(&work, DIAG_CHART_SHADES,
                        "cream 12 stitches; slate 10 stitches; coral 1 stitch.") != NULL);
    arena_destroy(work.arena);
}

static void squares_of_pixels(void)
{
    static const int blocks[] = {2, 3, 4, 5, 7, 16};

    for (size_t i = 0; i < sizeof blocks / sizeof *blocks; i++) {
        struct work work = work_create();
        const struct chart *chart = read_png(&work, picture(&work, boat, blocks[i]), 6);

        CU_ASSERT_FATAL(chart != NULL);
        check_grid(&chart->repeat, boat);
        CU_ASSERT(seen_find(&work, DIAG_CHART_SHADES, "cream 12 stitches;") != NULL);
        CU_ASSERT(seen_find(&work, DIAG_CHART_SHADES, "a few pixels") == NULL);
        arena_destroy(work.arena);
    }
}

/* across = its own width: squares of one pixel. */
static void squares_of_one_pixel(void)
{
    struct work work = work_create();
    const struct chart *chart = read_png(&work, picture(&work, boat, 1), 6);

    CU_ASSERT_FATAL(chart != NULL);
    check_grid(&chart->repeat, boat);
    arena_destroy(work.arena);
}

/* Black lines ruled between squares of 8 pixels, and one stray pixel in a middle. */
static void ruled_squares(void)
{
    struct work work = work_create();
    int width, height;
    unsigned char *pixels = paint(&work, boat, 8, &width, &height);
    const struct chart *chart;

    for (int y = 0; y < height; y++)
        for (int x = 0; x < width; x++)
            if (x % 8 == 0 || y % 8 == 0)
                letter_paint('k', pixels + 4 * ((size_t)y * (size_t)width + (size_t)x));
    letter_paint('r', pixels + 4 * ((size_t)12 * (size_t)width + 20));
    chart = read_png(
        &work, png_make(&work, rgba, width, height, pixels, 4 * (size_t)width, NULL, NULL, 0), 6);
    CU_ASSERT_FATAL(chart != NULL);
    check_grid(&chart->repeat, boat);
    CU_ASSERT(seen_find(&work, DIAG_CHART_SHADES, "In 1 square a few pixels") != NULL);
    arena_destroy(work.arena);
}

/* The same picture in every form PNG has. */
static void palette_pictures(void)
{
    static const png_color palette[] = {
        {0xf3, 0xea, 0xd7}, {0x33, 0x44, 0x55}, {0xff, 0x7f, 0x50}, {0, 0, 0}};
    static const unsigned char alpha[] = {255, 255, 255, 0};
    /* boat, two bits a pixel, six pixels a row in two bytes: 0 . 1 x 2 o 3 - */
    static const unsigned char rows[] = {0x01, 0x00, 0x05, 0xc0, 0x15, 0x00, 0x85, 0x50};
    static const int interlaces[] = {PNG_INTERLACE_NONE, PNG_INTERLACE_ADAM7};

    for (int i = 0; i < 2; i++) {
        struct work work = work_create();
        struct form form = {PNG_COLOR_TYPE_PALETTE, 2, interlaces[i]};
        const struct chart *chart =
            read_png(&work, png_make(&work, form, 6, 4, rows, 2, palette, alpha, 4), 0);

        CU_ASSERT_FATAL(chart != NULL);
        check_grid(&chart->repeat, boat);
        arena_destroy(work.arena);
    }
}

static void deep_and_grey_pictures(void)
{
    static const struct form forms[] = {
        {PNG_COLOR_TYPE_RGB_ALPHA, 16, PNG_INTERLACE_NONE},
        {PNG_COLOR_TYPE_RGB, 8, PNG_INTERLACE_NONE},
        {PNG_COLOR_TYPE_RGB, 16, PNG_INTERLACE_ADAM7},
        {PNG_COLOR_TYPE_GRAY, 1, PNG_INTERLACE_NONE},
        {PNG_COLOR_TYPE_GRAY, 8, PNG_INTERLACE_NONE},
        {PNG_COLOR_TYPE_GRAY_ALPHA, 8, PNG_INTERLACE_NONE},
        {PNG_COLOR_TYPE_GRAY_ALPHA, 16, PNG_INTERLACE_ADAM7},
    };
    static const int row_bytes[] = {24, 9, 18, 1, 3, 6, 12};
    static const char *const light_dark[] = {".x.", "..x", NULL};

    for (size_t f = 0; f < sizeof forms / sizeof *forms; f++) {
        struct work work = work_create();
        unsigned char rows[48];
        const struct chart *chart;

        memset(rows, 0xff, sizeof rows); /* white, opaque */
        for (int y = 0; y < 2; y++) {
            int bytes = row_bytes[f] / 3, x = y == 0 ? 1 : 2;
            int opaque = forms[f].colour_type & PNG_COLOR_MASK_ALPHA ? forms[f].depth / 8 : 0;

            if (forms[f].depth == 1)
                rows[y] = (unsigned char)(0xff & ~(0x80 >> x));
            else
                memset(rows + y * row_bytes[f] + x * bytes, 0, (size_t)(bytes - opaque));
        }
        chart = read_png(
            &work, png_make(&work, forms[f], 3, 2, rows, (size_t)row_bytes[f], NULL, NULL, 0), 0);
        CU_ASSERT_FATAL(chart != NULL);
        check_grid(&chart->repeat, light_dark);
        arena_destroy(work.arena);
    }
}

/* --- colours ------------------------------------------------------------------------- */

/* White is nearest to cream, black and navy to slate, red to coral: by eye. */
static void nearest_shades(void)
{
    static const char *const drawn[] = {"wwk.n", "srrsn", "nnnko", NULL};
    static const char *const read[] = {"..x.x", "xooxx", "xxxxo", NULL};
    struct work work = work_create();
    const struct chart *chart = read_png(&work, picture(&work, drawn, 1), 0);
    const struct diag *note = seen_find(&work, DIAG_CHART_SHADES, "");

    CU_ASSERT_FATAL(chart != NULL && note != NULL);
    check_grid(&chart->repeat, read);
    CU_ASSERT(strstr(note->what, "cream 3 stitches (from #ffffff)") != NULL);
    /* 5 navy, 2 black, 2 blue-grey: the most frequent first */
    CU_ASSERT(strstr(note->what, "slate 9 stitches (from #202840, #000000, #3c5064)") != NULL);
    CU_ASSERT(strstr(note->what, "coral 3 stitches (from #ff0000)") != NULL);
    CU_ASSERT_EQUAL(diag_code_severity(note->code), DIAG_NOTE);
    arena_destroy(work.arena);
}

/* A dusky pink beside green #93a972 and crimson #f50158: nearer to the green by red, green and
 * blue (61 and 142) and by plain L*a*b* distance (45 and 58), to the crimson by CIEDE2000 (38 and
 * 18). Found and computed by a separate program from the formulas of Sharma et al. 2005. */
static void difference_is_ciede2000(void)
{
    static const unsigned char green[] = {0x93, 0xa9, 0x72}, crimson[] = {0xf5, 0x01, 0x58};
    unsigned char row[] = {0xbd, 0x7e, 0x7d, 255};
    struct work work = work_create();
    struct project *project = project_make(&work, 2);
    const struct chart *chart;

    memcpy(project->yarns[CREAM].rgb, green, 3);
    memcpy(project->yarns[SLATE].rgb, crimson, 3);
    chart =
        chart_read_png(&work, project, png_make(&work, rgba, 1, 1, row, sizeof row, NULL, NULL, 0),
                       0, (struct place){0});
    CU_ASSERT_FATAL(chart != NULL);
    CU_ASSERT_EQUAL(chart->repeat.cell[0], SLATE);
    arena_destroy(work.arena);
}

/* As often one as the other: the first met, from the right. */
static void merged_beyond_three(void)
{
    struct work work = work_create();
    unsigned char row[5 * 4] = {0x33, 0x44, 0x55, 255,  0x33, 0x44, 0x56, 255,  0x33, 0x45,
                                0x55, 255,  0x34, 0x44, 0x55, 255,  0x35, 0x44, 0x55, 255};

    CU_ASSERT(read_png(&work, png_make(&work, rgba, 5, 1, row, sizeof row, NULL, NULL, 0), 0) !=
              NULL);
    CU_ASSERT(seen_find(&work, DIAG_CHART_SHADES,
                        "slate 5 stitches (from #354455, #344455, #334555 and 1 more)") != NULL);
    arena_destroy(work.arena);
}

/* 200 greys near slate, each met twice: 200 colours, not 400. */
static void colours_met_again(void)
{
    struct work work = work_create();
    unsigned char rows[2][200 * 4];

    for (int i = 0; i < 200; i++) {
        unsigned char pixel[4] = {(unsigned char)(0x20 + i % 20), (unsigned char)(0x30 + i / 20),
                                  0x50, 255};

        memcpy(rows[0] + 4 * i, pixel, 4);
        memcpy(rows[1] + 4 * (199 - i), pixel, 4);
    }
    CU_ASSERT(read_png(&work, png_make(&work, rgba, 200, 2, rows[0], sizeof rows[0], NULL, NULL, 0),
                       0) != NULL);
    CU_ASSERT(seen_find(&work, DIAG_CHART_SHADES, "slate 400 stitches") != NULL);
    CU_ASSERT(seen_find(&work, DIAG_CHART_SHADES, "and 197 more)") != NULL);
    arena_destroy(work.arena);
}

/* Faint slate on white paper: 40/255 slate is #dfe2e4 by hand, nearest to cream. */
static void half_transparent(void)
{
    static const char *const drawn[] = {"hx", NULL};
    static const char *const read[] = {".x", NULL};
    struct work work = work_create();
    const struct chart *chart = read_png(&work, picture(&work, drawn, 1), 0);

    CU_ASSERT_FATAL(chart != NULL);
    check_grid(&chart->repeat, read);
    CU_ASSERT(seen_find(&work, DIAG_CHART_SHADES, "(from #dfe2e4)") != NULL);
    arena_destroy(work.arena);
}

static void twin_shades(void)
{
    struct work work = work_create();
    struct project *project = project_make(&work, 3);
    const struct chart *chart;

    memcpy(project->yarns[CORAL].rgb, project->yarns[CREAM].rgb, 3);
    chart = chart_read_png(&work, project, picture(&work, boat, 1), 0, (struct place){0});
    CU_ASSERT_FATAL(chart != NULL);
    CU_ASSERT(seen_find(&work, DIAG_CHART_SHADES,
                        "coral has the shade of cream: all such stitches went to cream.") != NULL);
    arena_destroy(work.arena);
}

/* Yarns without a shade take no part; those with one keep their own index. */
static void only_yarns_with_shades(void)
{
    struct work work = work_create();
    struct project *project = project_make(&work, 3);
    const struct chart *chart;

    project->yarns[CREAM].shade.text = NULL;
    chart = chart_read_png(&work, project, picture(&work, boat, 1), 0, (struct place){0});
    CU_ASSERT_FATAL(chart != NULL);
    for (int i = 0; i < 24; i++)
        CU_ASSERT(chart->repeat.cell[i] == SLATE || chart->repeat.cell[i] == CORAL ||
                  chart->repeat.cell[i] == GRID_NO_STITCH);
    CU_ASSERT(seen_find(&work, DIAG_CHART_SHADES, "cream") == NULL);
    arena_destroy(work.arena);
}

/* --- what does not read -------------------------------------------------------------- */

static void no_shades(void)
{
    struct work work = work_create();

    CU_ASSERT(!chart_read_png(&work, project_make(&work, 0), picture(&work, boat, 1), 0,
                              (struct place){0}));
    CU_ASSERT_EQUAL(seen_all(&work), 1);
    CU_ASSERT(seen_find(&work, DIAG_KEY_MISSING, "no yarn has a shade") != NULL);
    arena_destroy(work.arena);
}

static void rows_without_stitch(void)
{
    static const char *const gap[] = {".x", "--", "x.", "--", NULL};
    static const char *const nothing[] = {"--", "--", NULL};
    struct work work = work_create();

    CU_ASSERT(read_png(&work, picture(&work, gap, 1), 0) == NULL);
    CU_ASSERT_EQUAL(seen_count(&work, DIAG_CHART_EMPTY), 2);
    CU_ASSERT(seen_find(&work, DIAG_CHART_EMPTY, "Row 1 from the bottom") != NULL);
    CU_ASSERT(seen_find(&work, DIAG_CHART_EMPTY, "Row 3 from the bottom") != NULL);
    CU_ASSERT(read_png(&work, picture(&work, nothing, 4), 2) == NULL);
    CU_ASSERT_EQUAL(seen_count(&work, DIAG_CHART_EMPTY), 3);
    CU_ASSERT(seen_find(&work, DIAG_CHART_EMPTY, "transparent all over") != NULL);
    arena_destroy(work.arena);
}

static void squares_that_do_not_divide(void)
{
    static const char *const tall[] = {"......", "......", "......", "......", "......", NULL};
    struct work work = work_create();

    /* 60 pixels by 40: 7 stitches do not go into 60 (56, 63); 6 and 12 are the nearest that go
     * into both sides, 6 the nearer */
    CU_ASSERT(read_png(&work, picture(&work, boat, 10), 7) == NULL);
    CU_ASSERT(seen_find(&work, DIAG_CHART_BLOCKS, "60 pixels wide") != NULL);
    CU_ASSERT(seen_find(&work, DIAG_CHART_BLOCKS,
                        "Make it 56 or 63 pixels wide, or write "
                        "`across = 6`.") != NULL);
    /* 60 by 50: 3 stitches are squares of 20, and 50 is no whole number of them */
    CU_ASSERT(read_png(&work, picture(&work, tall, 10), 3) == NULL);
    CU_ASSERT(seen_find(&work, DIAG_CHART_BLOCKS, "a square of 20 pixels") != NULL);
    CU_ASSERT(seen_find(&work, DIAG_CHART_BLOCKS,
                        "Make it 40 or 60 pixels tall, or write "
                        "`across = 6`.") != NULL);
    /* fewer pixels than stitches */
    CU_ASSERT(read_png(&work, picture(&work, boat, 1), 24) == NULL);
    CU_ASSERT(seen_find(&work, DIAG_CHART_BLOCKS,
                        "Make it 24 pixels wide, or write "
                        "`across = 6`.") != NULL);
    CU_ASSERT_EQUAL(seen_all(&work), 3);
    arena_destroy(work.arena);
}

/* The boat is 6 across; read as 3, four stitches would have to pass for one. */
static void squares_of_no_one_colour(void)
{
    struct work work = work_create();

    /* by hand, top left to bottom right: ....  .xxx  ..-.   ..o.  xxxx  ..xx: four are mixed */
    CU_ASSERT(read_png(&work, picture(&work, boat, 8), 3) == NULL);
    CU_ASSERT_EQUAL(seen_all(&work), 1);
    CU_ASSERT(seen_find(&work, DIAG_CHART_BLOCKS,
                        "4 squares of the picture are of no one colour: the first is in row 2 "
                        "from the bottom, column 1 from the right") != NULL);
    arena_destroy(work.arena);
}

static void put_long(char *at, unsigned long value)
{
    for (int i = 0; i < 4; i++)
        at[i] = (char)(unsigned char)(value >> (24 - 8 * i));
}

/* A head that claims a size; nothing behind it. */
static const struct source *claim(struct work *work, unsigned long width, unsigned long height)
{
    static const char head[] = "\x89PNG\r\n\x1a\n\0\0\0\rIHDRwwwwhhhh\x08\x06\0\0\0";
    char *bytes = arena_alloc(work->arena, 100, 1);
    struct source *source = arena_alloc(work->arena, 1, sizeof *source);

    memcpy(bytes, head, sizeof head);
    put_long(bytes + 16, width);
    put_long(bytes + 20, height);
    source->name = "huge.png";
    source->bytes = bytes;
    source->nbytes = 100;
    return source;
}

/* Refused by their head alone: nothing of the size claimed is allocated. */
static void enormous_pictures(void)
{
    static const unsigned long sizes[][3] = {
        {60000, 60000, 0},   {0xffffffff, 0xffffffff, 0},
        {0x7fffffff, 1, 0},  {1, 0x7fffffff, 0},
        {5001, 2, 0},        {2, 5001, 0},
        {60000, 60000, 600}, {10000, 10001, 10},
        {6000, 6000, 6000},
    };
    struct work work = work_create();
    size_t before = arena_used_bytes(work.arena);

    for (size_t i = 0; i < sizeof sizes / sizeof *sizes; i++) {
        struct work one = {.arena = work.arena, .diagnostics = diagnostics_create(work.arena), .outside = &disk};

        CU_ASSERT(read_png(&one, claim(&work, sizes[i][0], sizes[i][1]), (int)sizes[i][2]) == NULL);
        CU_ASSERT(seen_count(&one, DIAG_CHART_SIZE) == 1 ||
                  seen_count(&one, DIAG_CHART_BLOCKS) == 1);
    }
    CU_ASSERT(read_png(&work, claim(&work, 0, 5), 0) == NULL);
    CU_ASSERT_EQUAL(seen_count(&work, DIAG_CHART_EMPTY), 1);
    CU_ASSERT(arena_used_bytes(work.arena) - before < (size_t)32 << 20);
    arena_destroy(work.arena);
}

/* A good picture cut at every length is refused, with one message; whole it reads. */
static void cut_at_every_length(void)
{
    static const int interlaces[] = {PNG_INTERLACE_NONE, PNG_INTERLACE_ADAM7};

    for (int i = 0; i < 2; i++) {
        struct work work = work_create();
        struct form form = {PNG_COLOR_TYPE_RGB_ALPHA, 8, interlaces[i]};
        int width, height;
        unsigned char *pixels = paint(&work, boat, 3, &width, &height);
        struct source cut =
            *png_make(&work, form, width, height, pixels, 4 * (size_t)width, NULL, NULL, 0);
        size_t whole = cut.nbytes;

        for (cut.nbytes = 0; cut.nbytes < whole; cut.nbytes++) {
            struct work one = {.arena = work.arena, .diagnostics = diagnostics_create(work.arena), .outside = &disk};
            char *copy = arena_strndup(work.arena, cut.bytes, cut.nbytes);

            CU_ASSERT(read_png(&one, &(struct source){.name = "boat.png", .bytes = copy, .nbytes = cut.nbytes}, 6) ==
                      NULL);
            CU_ASSERT_EQUAL(seen_all(&one), 1);
            CU_ASSERT_EQUAL(seen_count(&one, DIAG_CHART_IMAGE), 1);
            if (cut.nbytes >= 60)
                CU_ASSERT(seen_find(&one, DIAG_CHART_IMAGE, "cut short") != NULL);
        }
        CU_ASSERT(read_png(&work, &cut, 6) != NULL);
        arena_destroy(work.arena);
    }
}

/* Any one byte wrong: the sums in the file give it away. */
static void damaged_at_every_byte(void)
{
    struct work work = work_create();
    const struct source *good = picture(&work, boat, 2);
    char *bytes = arena_strndup(work.arena, good->bytes, good->nbytes);

    for (size_t i = 0; i < good->nbytes; i++)
        for (int bit = 0; bit < 8; bit++) {
            struct arena *arena = arena_branch(work.arena);
            struct work one = {.arena = arena, .diagnostics = diagnostics_create(arena), .outside = &disk};

            bytes[i] = (char)(bytes[i] ^ (1 << bit));
            CU_ASSERT(read_png(&one, &(struct source){.name = "boat.png", .bytes = bytes, .nbytes = good->nbytes},
                               6) == NULL);
            CU_ASSERT(diagnostics_fatal(one.diagnostics));
            arena_destroy(arena);
            bytes[i] = (char)(bytes[i] ^ (1 << bit));
        }
    arena_destroy(work.arena);
}

static void not_pictures(void)
{
    static const char *const texts[] = {"", "x", "..x\nx..\n", "GIF89a------------------",
                                        "\xff\xd8\xff\xe0--------------------------------"};
    struct work work = work_create();

    for (size_t i = 0; i < sizeof texts / sizeof *texts; i++) {
        struct work one = {.arena = work.arena, .diagnostics = diagnostics_create(work.arena), .outside = &disk};
        struct source source = {.name = "boat.png", .bytes = texts[i], .nbytes = strlen(texts[i])};

        CU_ASSERT(read_png(&one, &source, 0) == NULL);
        CU_ASSERT_EQUAL(seen_all(&one), 1);
        CU_ASSERT(seen_find(&one, DIAG_CHART_IMAGE, "not a PNG picture") != NULL);
    }
    arena_destroy(work.arena);
}

/* 260 by 260 pixels of different colours: a photograph, not a chart. 256 by 256 go. */
static void too_many_colours(void)
{
    struct work work = work_create();
    unsigned char *pixels = arena_alloc(work.arena, 260 * 260, 4);

    for (int side = 256; side <= 260; side += 4) {
        const struct chart *chart;

        for (int i = 0; i < side * side; i++) {
            pixels[4 * i] = (unsigned char)(i >> 16);
            pixels[4 * i + 1] = (unsigned char)(i >> 8);
            pixels[4 * i + 2] = (unsigned char)i;
            pixels[4 * i + 3] = 255;
        }
        chart = read_png(
            &work, png_make(&work, rgba, side, side, pixels, 4 * (size_t)side, NULL, NULL, 0), 0);
        CU_ASSERT_EQUAL(chart != NULL, side == 256);
    }
    CU_ASSERT(seen_find(&work, DIAG_CHART_IMAGE, "more than 65536 colours") != NULL);
    arena_destroy(work.arena);
}

CU_TestInfo tests_chart_png[] = {
    {"one pixel a stitch", pixel_a_stitch},
    {"squares of pixels", squares_of_pixels},
    {"squares of one pixel", squares_of_one_pixel},
    {"ruled squares", ruled_squares},
    {"pictures with a palette", palette_pictures},
    {"deep, grey and interlaced pictures", deep_and_grey_pictures},
    {"nearest shades, and what was merged", nearest_shades},
    {"differences are those of CIEDE2000", difference_is_ciede2000},
    {"more than three colours merged", merged_beyond_three},
    {"colours met again", colours_met_again},
    {"faint colours lie on white", half_transparent},
    {"two yarns of one shade", twin_shades},
    {"only yarns with a shade", only_yarns_with_shades},
    {"no yarn has a shade", no_shades},
    {"rows without a stitch", rows_without_stitch},
    {"pictures that do not divide", squares_that_do_not_divide},
    {"squares of no one colour", squares_of_no_one_colour},
    {"enormous pictures", enormous_pictures},
    {"a picture cut at every length", cut_at_every_length},
    {"a picture damaged at every bit", damaged_at_every_byte},
    {"what is no picture", not_pictures},
    {"too many colours", too_many_colours},
    CU_TEST_INFO_NULL,
};
