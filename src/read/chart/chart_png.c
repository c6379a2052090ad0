/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A chart drawn as a picture. The size in its head is judged before anything is allocated
 * or unpacked; then rows come one by one from who unpacks it, so that a large picture costs its
 * grid and one row.
 */
#include <string.h>

#include "base/arena.h"
#include "base/diag.h"
#include "base/work.h"
#include "chart.h"
#include "chart_parts.h"
#include "chart_shades.h"

enum {
    HEAD_BYTES = 29,                 /* signature, and IHDR up to its last field */
    PIXELS_MAX = 100000000,          /* of a picture in squares */
    INTERLACED_PIXELS_MAX = 4000000  /* those have to be kept whole */
};

struct picture {
    struct work *work;
    const struct project *project;
    const struct source *source;
    struct place at;
    long width, height;
    bool interlaced;
    int across;
    long block; /* pixels of a square's side; 1 without `across` */
    int nrows, ncols;
    uint8_t *cell;
    struct chart_shades *shades;
    int64_t stitches[GRID_YARNS_MAX]; /* of each shade */
    uint32_t *votes; /* votes[ncols * (shades + 1)]: pixels of each square of the row at hand */
    int64_t smudged; /* squares with some pixels of another colour */
    int64_t mixed;   /* squares of no one colour */
    int mixed_row, mixed_col; /* the first of them, from 0 */
};

static void fault(struct picture *p, enum diag_code code, const char *what, const char *todo)
{
    diag_add(p->work->diagnostics, code, p->at, what, todo);
}

/* --- the head of the file ------------------------------------------------------------ */

static const char save_again[] = "Save it again as PNG, or copy the file again.";

static long long_at(const char *bytes)
{
    const unsigned char *b = (const unsigned char *)bytes;

    return (long)b[0] << 24 | (long)b[1] << 16 | (long)b[2] << 8 | (long)b[3];
}

static bool head_read(struct picture *p)
{
    const char *bytes = p->source->bytes;
    size_t nbytes = p->source->nbytes;

    if (p->source->width > 0) {
        p->width = p->source->width;
        p->height = p->source->height;
        return true;
    }
    if (nbytes < 8 || memcmp(bytes, "\x89PNG\r\n\x1a\n", 8) != 0) {
        fault(p, DIAG_CHART_IMAGE,
              arena_printf(p->work->arena, "%s is not a PNG picture, whatever its name says.",
                           p->source->name),
              "Open it in a drawing program and save it as PNG.");
        return false;
    }
    if (nbytes < HEAD_BYTES || memcmp(bytes + 8, "\0\0\0\rIHDR", 8) != 0) {
        fault(p, DIAG_CHART_IMAGE,
              arena_printf(p->work->arena, "The picture %s is damaged or cut short.",
                           p->source->name),
              save_again);
        return false;
    }
    p->width = long_at(bytes + 16);
    p->height = long_at(bytes + 20);
    p->interlaced = bytes[28] != 0;
    if (p->work->outside && p->work->outside->unpack)
        return true;
    fault(p, DIAG_CHART_IMAGE,
          arena_printf(p->work->arena, "%s is packed as PNG, and nothing here unpacks it.", p->source->name),
          "Hand the picture over unpacked, or write the chart in marks.");
    return false;
}

/* --- sizes --------------------------------------------------------------------------- */

static const char *or_number(struct picture *p, long below, long above)
{
    return below > 0 ? arena_printf(p->work->arena, "%ld or %ld", below, above)
                     : arena_printf(p->work->arena, "%ld", above);
}

/* The number of squares nearest to `across` that the picture divides into both ways; 0: none. */
static long across_nearest(const struct picture *p)
{
    for (long off = 1; off < GRID_SIDE_MAX; off++)
        for (int sign = -1; sign <= 1; sign += 2) {
            long tried = p->across + sign * off;

            if (tried > 0 && tried <= p->width && tried <= GRID_SIDE_MAX && p->width % tried == 0 &&
                p->height % (p->width / tried) == 0)
                return tried;
        }
    return 0;
}

static bool blocks_check(struct picture *p)
{
    struct arena *arena = p->work->arena;
    long near = across_nearest(p);
    const char *other = near > 0 ? arena_printf(arena, ", or write `across = %ld`", near) : "";

    if (p->width % p->across != 0) {
        long below = p->width / p->across * p->across;

        fault(p, DIAG_CHART_BLOCKS,
              arena_printf(arena,
                           "The picture is %ld pixels wide, which does not divide into %d "
                           "stitches of one width.",
                           p->width, p->across),
              arena_printf(arena, "Make it %s pixels wide%s.",
                           or_number(p, below, below + p->across), other));
        return false;
    }
    p->block = p->width / p->across;
    if (p->height % p->block != 0) {
        long below = p->height / p->block * p->block;

        fault(p, DIAG_CHART_BLOCKS,
              arena_printf(arena,
                           "With %d stitches across, each is a square of %ld pixels; the picture "
                           "is %ld pixels tall, no whole number of them.",
                           p->across, p->block, p->height),
              arena_printf(arena, "Make it %s pixels tall%s.",
                           or_number(p, below, below + p->block), other));
        return false;
    }
    return true;
}

static bool size_fits(const struct picture *p)
{
    long ncols = p->across > 0 ? p->across : p->width;
    long nrows = p->height / p->block;

    return ncols <= GRID_SIDE_MAX && nrows <= GRID_SIDE_MAX && ncols * nrows <= GRID_CELLS_MAX;
}

static bool size_check(struct picture *p)
{
    struct arena *arena = p->work->arena;
    long pixels_max = p->interlaced ? INTERLACED_PIXELS_MAX : PIXELS_MAX;

    p->block = 1;
    if (p->width < 1 || p->height < 1) {
        fault(p, DIAG_CHART_EMPTY, "The picture has no pixels.", save_again);
        return false;
    }
    if (p->width > pixels_max / p->height) {
        fault(p, DIAG_CHART_SIZE,
              arena_printf(arena, "The picture is %ld pixels wide and %ld tall.", p->width,
                           p->height),
              p->interlaced ? "Make it smaller, or save it without interlacing (Adam7)."
                            : "Make it smaller: one pixel for each stitch is enough.");
        return false;
    }
    if (p->across > 0 && !blocks_check(p))
        return false;
    if (size_fits(p))
        return true;
    fault(p, DIAG_CHART_SIZE,
          arena_printf(arena,
                       "As a chart the picture has %ld stitches and %ld rows; at most %d of each "
                       "can be planned.",
                       p->across > 0 ? p->across : p->width, p->height / p->block, GRID_SIDE_MAX),
          "Chart one repeat. If each stitch is a square of several pixels, say how many "
          "stitches: `across = 24`.");
    return false;
}

static bool shades_check(struct picture *p)
{
    if (p->shades->count > 0)
        return true;
    fault(p, DIAG_KEY_MISSING,
          arena_printf(p->work->arena,
                       "%s is a picture, and no yarn has a shade to match its colours with.",
                       p->source->name),
          "Give each [yarn] its shade: `shade = #f3ead7`, or a name such as ivory.");
    return false;
}

/* --- pixel rows to stitches ---------------------------------------------------------- */

static void cell_set(struct picture *p, int row, int col, int shade)
{
    uint8_t *cell = &p->cell[(size_t)row * (size_t)p->ncols + (size_t)col];

    *cell = GRID_NO_STITCH;
    if (shade == p->shades->count)
        return;
    *cell = p->shades->shade[shade].yarn;
    p->stitches[shade]++;
}

static bool row_of_pixels(struct picture *p, int row, const unsigned char *pixels)
{
    for (int col = 0; col < p->ncols; col++) {
        int shade = chart_shades_match(p->shades, pixels + 4 * (size_t)(p->ncols - 1 - col));

        if (shade < 0)
            return false;
        cell_set(p, row, col, shade);
    }
    return true;
}

/* The middle of a square decides, so that lines ruled between squares and softened edges do
 * no harm: half of its side, all of it where it is under four pixels. */
static long middle_from(const struct picture *p)
{
    return p->block / 4;
}

static long middle_to(const struct picture *p)
{
    return p->block - p->block / 4;
}

static bool votes_add(struct picture *p, const unsigned char *pixels)
{
    size_t kinds = (size_t)p->shades->count + 1;

    for (int col = 0; col < p->ncols; col++) {
        long left = (p->ncols - 1 - col) * p->block;

        for (long x = left + middle_from(p); x < left + middle_to(p); x++) {
            int shade = chart_shades_match(p->shades, pixels + 4 * (size_t)x);

            if (shade < 0)
                return false;
            p->votes[(size_t)col * kinds + (size_t)shade]++;
        }
    }
    return true;
}

/* The shade most pixels of a square have. Less than seven in eight, and the square is of no
 * one colour: three in four would let four stitches pass for one. */
static void square_decide(struct picture *p, int row, int col)
{
    size_t kinds = (size_t)p->shades->count + 1;
    const uint32_t *votes = p->votes + (size_t)col * kinds;
    uint32_t side = (uint32_t)(middle_to(p) - middle_from(p)), all = side * side;
    int best = 0;

    for (int i = 1; i <= p->shades->count; i++)
        if (votes[i] > votes[best])
            best = i;
    cell_set(p, row, col, best);
    if (votes[best] < all)
        p->smudged++;
    if (votes[best] >= all - all / 8)
        return;
    if (p->mixed++ == 0) {
        p->mixed_row = row;
        p->mixed_col = col;
    }
}

static bool row_of_squares(struct picture *p, long y, const unsigned char *pixels)
{
    long inside = y % p->block;
    int row = p->nrows - 1 - (int)(y / p->block);
    size_t nvotes = (size_t)p->ncols * ((size_t)p->shades->count + 1);

    if (inside == 0)
        memset(p->votes, 0, nvotes * sizeof *p->votes);
    if (inside >= middle_from(p) && inside < middle_to(p) && !votes_add(p, pixels))
        return false;
    for (int col = 0; inside == p->block - 1 && col < p->ncols; col++)
        square_decide(p, row, col);
    return true;
}

/* One row of the picture. Returned: false to stop. */
static bool row_take(void *data, long y, const unsigned char *pixels)
{
    struct picture *p = data;

    if (p->block == 1)
        return row_of_pixels(p, p->nrows - 1 - (int)y, pixels);
    return row_of_squares(p, y, pixels);
}

/* Rows as they are unpacked, or from a picture that came so. */
static enum unpacked pixels_read(struct picture *p)
{
    const struct source *source = p->source;
    const struct unpacking unpacking = {source->bytes, source->nbytes, p->width, p->height, p->interlaced,
                                        row_take,      p};
    size_t row_bytes = 4 * (size_t)p->width;

    if (source->width == 0)
        return p->work->outside->unpack(p->work, &unpacking);
    if (source->nbytes < row_bytes * (size_t)p->height)
        return UNPACKED_CUT_SHORT;
    for (long y = 0; y < p->height; y++)
        if (!row_take(p, y, (const unsigned char *)source->bytes + (size_t)y * row_bytes))
            break;
    return UNPACKED;
}

/* --- what came of it ----------------------------------------------------------------- */

static bool picture_check(struct picture *p, enum unpacked unpacked)
{
    struct arena *arena = p->work->arena;

    if (unpacked != UNPACKED) {
        fault(p, DIAG_CHART_IMAGE,
              arena_printf(arena, "The picture %s is %s.", p->source->name,
                           unpacked == UNPACKED_CUT_SHORT ? "cut short" : "damaged"),
              save_again);
        return false;
    }
    if (p->shades->too_many) {
        fault(p, DIAG_CHART_IMAGE,
              arena_printf(arena, "The picture has more than %d colours, as a photograph has.",
                           CHART_COLOURS_MAX),
              "Draw it in one plain colour for each yarn.");
        return false;
    }
    if (p->mixed > 0) {
        fault(p, DIAG_CHART_BLOCKS,
              arena_printf(arena,
                           "With %d stitches across, %s of no one colour: the first is in row %d "
                           "from the bottom, column %d from the right.",
                           p->across,
                           p->mixed == 1 ? "one square of the picture is"
                                         : arena_printf(arena, "%lld squares of the picture are",
                                                        (long long)p->mixed),
                           p->mixed_row + 1, p->mixed_col + 1),
              arena_printf(arena,
                           "Each square is %ld pixels wide then. Correct `across`, or cut margins "
                           "off the picture.",
                           p->block));
        return false;
    }
    return true;
}

static bool rows_check(struct picture *p, const struct grid *grid)
{
    int empty = 0;

    for (int row = 0; row < grid->nrows; row++)
        empty += chart_row_is_empty(grid, row);
    if (empty == grid->nrows)
        fault(p, DIAG_CHART_EMPTY, "The picture is transparent all over.",
              "Paint each stitch in its yarn's colour.");
    for (int row = grid->nrows - 1; row >= 0 && empty < grid->nrows; row--)
        if (chart_row_is_empty(grid, row))
            fault(p, DIAG_CHART_EMPTY,
                  arena_printf(p->work->arena,
                               "Row %d from the bottom of the picture has no stitch.", row + 1),
                  "Paint at least one, or cut the row out.");
    return empty == 0;
}

static void matches_report(struct picture *p)
{
    struct arena *arena = p->work->arena;
    const char *smudged = "";

    if (p->smudged > 0)
        smudged = arena_printf(arena,
                               " In %s a few pixels have another colour than the rest; the "
                               "rest decided.",
                               chart_count(arena, (long)p->smudged, "square", "squares"));
    fault(p, DIAG_CHART_SHADES,
          arena_printf(arena, "Each colour of %s went to the yarn nearest in shade: %s.%s%s",
                       p->source->name, chart_shades_list(p->shades, p->stitches), smudged,
                       chart_shades_twins(p->shades)),
          "If a colour went astray, change the yarn's shade or the picture.");
}

static void tables_make(struct picture *p)
{
    struct arena *arena = p->work->arena;

    p->ncols = (int)(p->across > 0 ? p->across : p->width);
    p->nrows = (int)(p->height / p->block);
    p->cell = arena_alloc(arena, (size_t)p->nrows * (size_t)p->ncols, 1);
    if (p->block > 1)
        p->votes =
            arena_alloc(arena, (size_t)p->ncols * ((size_t)p->shades->count + 1), sizeof *p->votes);
}

const struct chart *chart_read_png(struct work *work, const struct project *project,
                                   const struct source *source, int across, struct place at)
{
    struct picture *p = arena_alloc(work->arena, 1, sizeof *p);
    struct chart *chart = arena_alloc(work->arena, 1, sizeof *chart);
    bool good;

    p->work = work;
    p->project = project;
    p->source = source;
    p->at = at;
    p->across = across > 0 ? across : 0;
    if (!head_read(p))
        return NULL;
    good = size_check(p);
    p->shades = chart_shades_create(work->arena, project);
    if (!shades_check(p) || !good)
        return NULL;
    tables_make(p);
    if (!picture_check(p, pixels_read(p)))
        return NULL;
    chart->name = source->name;
    chart->at = at;
    chart->repeat = (struct grid){p->nrows, p->ncols, p->cell};
    chart->left = chart->right = (struct grid){p->nrows, 0, p->cell};
    if (!rows_check(p, &chart->repeat))
        return NULL;
    matches_report(p);
    return chart;
}
