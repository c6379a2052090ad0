/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "chart.h"

#include <string.h>

#include "base/arena.h"
#include "base/diag.h"
#include "base/work.h"
#include "chart_parts.h"

const char *chart_count(struct arena *arena, long count, const char *one, const char *many)
{
    return arena_printf(arena, "%ld %s", count, count == 1 ? one : many);
}

size_t chart_char_bytes(char first)
{
    unsigned char byte = (unsigned char)first;

    return byte < 0xc0 ? 1 : byte < 0xe0 ? 2 : byte < 0xf0 ? 3 : 4;
}

bool chart_row_is_empty(const struct grid *grid, int row)
{
    const uint8_t *cell = grid->cell + (size_t)row * (size_t)grid->ncols;

    for (int i = 0; i < grid->ncols; i++)
        if (cell[i] != GRID_NO_STITCH)
            return false;
    return true;
}

/* --- finding the file ---------------------------------------------------------------- */

/* name as found from the folder of the project file. */
static const char *beside_project(struct work *work, const struct project *project,
                                  const char *name)
{
    const char *own = project->source ? project->source->name : "";
    const char *slash = strrchr(own, '/');

    if (!slash || name[0] == '/')
        return name;
    return arena_printf(work->arena, "%.*s%s", (int)(slash + 1 - own), own, name);
}

/* NAME, else NAME.chart, else NAME.png, into *got; its whole name. NULL after reporting that it is not there
 * or cannot be read. */
static const char *file_find(struct work *work, const struct project *project,
                             const struct given_text *chart, struct file_got *got)
{
    static const char *const ends[] = {"", ".chart", ".png"};
    const char *path = beside_project(work, project, chart->text), *tried = path;
    enum file_found found = FILE_NONE, first = FILE_NONE; /* first: what has the very name: a folder, say */

    for (size_t i = 0; i < sizeof ends / sizeof *ends; i++) {
        tried = arena_printf(work->arena, "%s%s", path, ends[i]);
        found = strcmp(tried, "-") == 0 ? FILE_NONE : source_find(work, tried, CHART_BYTES_MAX, got);
        if (found == FILE_FOUND)
            return tried;
        if (found == FILE_FORBIDDEN || found == FILE_LARGE)
            break;
        first = i == 0 ? found : first;
    }
    if (found != FILE_FORBIDDEN && found != FILE_LARGE) {
        found = first;
        tried = path;
    }
    if (found != FILE_NONE && found != FILE_UNREADABLE)
        source_refuse(work, tried, found, CHART_BYTES_MAX, got, chart->at);
    else
        diag_add(work->diagnostics, DIAG_FILE_MISSING, chart->at,
                 arena_printf(work->arena,
                              "There is no file %s, nor one with .chart or .png behind "
                              "the name.",
                              path),
                 "Put the chart into the folder of the project file, or correct the name.");
    return NULL;
}

static bool ends_in_png(const char *path)
{
    size_t length = strlen(path);
    const char *end = length >= 4 ? path + length - 4 : "";

    return end[0] == '.' && (end[1] | 0x20) == 'p' && (end[2] | 0x20) == 'n' &&
           (end[3] | 0x20) == 'g';
}

/* By its first bytes; a picture of another kind is for chart_read_png() to refuse. */
static bool is_picture(const char *path, const struct file_got *file)
{
    static const char *const heads[] = {"\x89PNG\r\n\x1a\n", "\xff\xd8\xff", "GIF8", "RIFF"};

    if (file->width > 0 || ends_in_png(path))
        return true;
    for (size_t i = 0; i < sizeof heads / sizeof *heads; i++)
        if (file->nbytes >= strlen(heads[i]) && memcmp(file->bytes, heads[i], strlen(heads[i])) == 0)
            return true;
    return false;
}

/* One of the charts of a band. *is_png: it is a picture. */
static const struct chart *chart_read_one(struct work *work, const struct project *project,
                                          const struct part *band, int index, bool *is_png)
{
    const struct given_text *named = &band->chart[index];
    struct file_got file;
    const char *path = file_find(work, project, named, &file);
    const struct source *source;

    *is_png = path && is_picture(path, &file);
    if (!path)
        return NULL;
    source = source_take(work, path, *is_png ? SOURCE_BINARY : SOURCE_TEXT, &file, named->at);
    if (!source)
        return NULL;
    if (*is_png)
        return chart_read_png(work, project, source, band->across.value,
                              named->at);
    return chart_read_text(work, project, source);
}

/* --- side by side -------------------------------------------------------------------- */

/* The rows most of the charts have; of several such, those of the first. */
static int rows_wanted(const struct chart *const *charts, int count)
{
    int best = 0, best_times = 0;

    for (int i = 0; i < count; i++) {
        int times = 0;

        for (int j = 0; j < count; j++)
            times += charts[j]->repeat.nrows == charts[i]->repeat.nrows;
        if (times > best_times) {
            best = charts[i]->repeat.nrows;
            best_times = times;
        }
    }
    return best;
}

/* "panel 39, stripe 38, palm 39", each chart once. */
static const char *rows_list(struct work *work, const struct part *band,
                             const struct chart *const *charts)
{
    const char *list = "";

    for (int i = 0; i < band->ncharts; i++) {
        bool said = false;

        for (int j = 0; j < i && !said; j++)
            said = charts[j] == charts[i];
        if (!said)
            list = arena_printf(work->arena, "%s%s%s %d", list, i > 0 ? ", " : "",
                                band->chart[i].text, charts[i]->repeat.nrows);
    }
    return list;
}

static bool join_check(struct work *work, const struct part *band,
                       const struct chart *const *charts)
{
    int wanted = rows_wanted(charts, band->ncharts);
    bool good = true, rows_said = false;
    long columns = 0;

    for (int i = 0; i < band->ncharts; i++) {
        columns += charts[i]->repeat.ncols;
        if (charts[i]->repeat.nrows != wanted && !rows_said) {
            rows_said = true;
            diag_add(work->diagnostics, DIAG_CHART_JOIN, band->chart[i].at,
                     arena_printf(work->arena,
                                  "Charts side by side need the same number of rows: %s.",
                                  rows_list(work, band, charts)),
                     arena_printf(work->arena, "Give each of them %d rows, say.", wanted));
        }
        if (charts[i]->left.ncols + charts[i]->right.ncols > 0) {
            good = false;
            diag_add(work->diagnostics, DIAG_CHART_JOIN, band->chart[i].at,
                     arena_printf(work->arena,
                                  "%s has side stitches, and stands beside other charts.",
                                  band->chart[i].text),
                     "Only a chart by itself can have them: take its bars out.");
        }
    }
    if (columns > GRID_SIDE_MAX || columns * wanted > GRID_CELLS_MAX) {
        good = false;
        diag_add(work->diagnostics, DIAG_CHART_SIZE, band->chart[0].at,
                 arena_printf(work->arena,
                              "Together the charts are %ld stitches wide and %d rows tall.",
                              columns, wanted),
                 arena_printf(work->arena, "A band may be %d stitches wide, and have %d in all.",
                              GRID_SIDE_MAX, GRID_CELLS_MAX));
    }
    return good && !rows_said;
}

static const struct chart *join(struct work *work, const struct part *band,
                                const struct chart *const *charts)
{
    struct chart *joined = arena_alloc(work->arena, 1, sizeof *joined);
    int ncols = 0, nrows = charts[0]->repeat.nrows;
    size_t done = 0;
    uint8_t *cell;
    const char *name = "";

    for (int i = 0; i < band->ncharts; i++) {
        ncols += charts[i]->repeat.ncols;
        name = arena_printf(work->arena, "%s%s%s", name, i > 0 ? ", " : "", band->chart[i].text);
    }
    cell = arena_alloc(work->arena, (size_t)nrows * (size_t)ncols, 1);
    for (int i = 0; i < band->ncharts; i++) {
        size_t width = (size_t)charts[i]->repeat.ncols;

        for (size_t row = 0; row < (size_t)nrows; row++)
            memcpy(cell + row * (size_t)ncols + done, charts[i]->repeat.cell + row * width, width);
        done += width;
    }
    joined->name = name;
    joined->at = band->chart[0].at;
    joined->repeat = (struct grid){nrows, ncols, cell};
    joined->left = joined->right = (struct grid){nrows, 0, cell};
    joined->beside = charts;
    joined->nbeside = band->ncharts;
    return joined;
}

/* A single chart under the name it has in the project. */
static const struct chart *rename_single(struct work *work, const struct part *band,
                                         const struct chart *chart)
{
    struct chart *mine = arena_alloc(work->arena, 1, sizeof *mine);

    *mine = *chart;
    mine->name = band->chart[0].text;
    mine->at = band->chart[0].at;
    return mine;
}

/* The charts of a band, each file read once. Returned: all could be read. */
static bool charts_read(struct work *work, const struct project *project, const struct part *band,
                        const struct chart **charts)
{
    bool good = true, any_png = false;

    for (int i = 0; i < band->ncharts; i++) {
        bool is_png = false;
        int same = 0;

        while (same < i && strcmp(band->chart[same].text, band->chart[i].text) != 0)
            same++;
        charts[i] = same < i ? charts[same] : chart_read_one(work, project, band, i, &is_png);
        any_png = any_png || is_png;
        good = good && charts[i];
    }
    if (good && band->across.value > 0 && !any_png) {
        diag_add(work->diagnostics, DIAG_KEYS_CLASH, band->across.at,
                 "`across` is for pictures, and this chart is written in marks.",
                 "Take `across` out.");
        return false;
    }
    return good;
}

const struct chart *chart_read_band(struct work *work, const struct project *project,
                                    const struct part *band)
{
    const struct chart **charts = arena_alloc(work->arena, (size_t)band->ncharts, sizeof *charts);

    if (band->ncharts == 0 || !charts_read(work, project, band, charts))
        return NULL; /* no chart named: reported by the reader of the project file */
    if (band->ncharts == 1)
        return rename_single(work, band, charts[0]);
    return join_check(work, band, charts) ? join(work, band, charts) : NULL;
}
