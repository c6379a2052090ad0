/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A chart written in marks, in two passes over its bytes: the first counts what stands in
 * each row and notes the marks no yarn has, the second fills the grid. A byte is looked up
 * in a table, so that a large chart costs little more than reading it.
 */
#include <string.h>

#include "base/arena.h"
#include "base/work.h"
#include "chart_parts.h"
#include "chart_text.h"

/* --- marks --------------------------------------------------------------------------- */

static bool is_space(char c)
{
    return c == ' ' || c == '\t';
}

static bool is_digit(char c)
{
    return c >= '0' && c <= '9';
}

static void mark_enter(struct chart_text *r, const char *mark, int code)
{
    size_t nbytes = mark ? strlen(mark) : 0;
    unsigned char first = nbytes > 0 ? (unsigned char)mark[0] : 0;

    if (nbytes == 0 || nbytes != chart_char_bytes(mark[0]))
        return; /* not one character: reported where the mark is given */
    if (nbytes > 1) {
        for (int i = 0; i < r->nwide; i++)
            if (strcmp(r->wide[i].bytes, mark) == 0)
                return; /* given twice: reported by check/ */
        if (r->nwide <= GRID_YARNS_MAX)
            r->wide[r->nwide++] = (struct chart_wide_mark){mark, nbytes, code};
        return;
    }
    if (r->code[first] == CHART_CODE_NONE)
        r->code[first] = code;
    if (is_digit(mark[0]))
        r->digit_is_mark = true;
}

static void marks_enter(struct chart_text *r)
{
    const struct project *project = r->project;

    for (int byte = 0; byte < 256; byte++)
        r->code[byte] = byte >= 0x80 ? CHART_CODE_WIDE : CHART_CODE_NONE;
    r->code[' '] = r->code['\t'] = CHART_CODE_SPACE;
    r->code['|'] = CHART_CODE_BAR;
    for (int i = 0; i < project->nyarns; i++)
        if (project->yarns[i].mark.text)
            mark_enter(r, project->yarns[i].mark.text, i);
    /* Last, so that the "-" nobody asked for does not take a yarn's mark away. */
    mark_enter(r, chart_text_no_stitch(r), GRID_NO_STITCH);
}

const char *chart_text_no_stitch(const struct chart_text *r)
{
    return r->project->no_stitch.text ? r->project->no_stitch.text : "-";
}

/* The code of the character of several bytes at p. */
static int wide_code(struct chart_text *r, const char *p, size_t nbytes)
{
    for (int i = 0; i < r->nwide; i++) {
        int tried = (r->last_wide + i) % r->nwide;
        const struct chart_wide_mark *mark = &r->wide[tried];

        if (mark->nbytes == nbytes && memcmp(mark->bytes, p, nbytes) == 0) {
            r->last_wide = tried;
            return mark->code;
        }
    }
    return nbytes == 2 && memcmp(p, "\xc2\xa0", 2) == 0 ? CHART_CODE_SPACE : CHART_CODE_NONE;
}

/* The code at p, never CHART_CODE_WIDE; *nbytes: of its character. */
int chart_text_code(struct chart_text *r, const char *p, const char *end, size_t *nbytes)
{
    int code = r->code[(unsigned char)*p];

    *nbytes = 1;
    if (code != CHART_CODE_WIDE)
        return code;
    *nbytes = chart_char_bytes(*p);
    if (*nbytes > (size_t)(end - p))
        *nbytes = (size_t)(end - p);
    return wide_code(r, p, *nbytes);
}

/* --- first pass ---------------------------------------------------------------------- */

static void strange_note(struct chart_text *r, const char *at, size_t nbytes)
{
    for (int i = 0; i < r->nstrange; i++)
        if (r->strange[i].nbytes == nbytes && memcmp(r->strange[i].at, at, nbytes) == 0) {
            r->strange[i].count++;
            return;
        }
    if (r->nstrange < CHART_STRANGE_MAX)
        r->strange[r->nstrange++] = (struct chart_strange){at, nbytes, r->nrows, 1};
    else
        r->strange_more++;
}

static void row_scan(struct chart_text *r, struct chart_row *row)
{
    const char *p = row->from;
    int count = 0;

    while (p < row->to) {
        const char *start = p;
        size_t nbytes;
        int code;

        while (p < row->to && r->code[(unsigned char)*p] >= 0)
            p++;
        count += (int)(p - start);
        if (p == row->to)
            break;
        code = chart_text_code(r, p, row->to, &nbytes);
        if (code == CHART_CODE_NONE)
            strange_note(r, p, nbytes);
        if (code == CHART_CODE_BAR) {
            if (row->bars < 2) {
                row->part[row->bars] = count;
                count = 0;
            }
            row->bars++;
        } else if (code != CHART_CODE_SPACE) {
            count++;
        }
        p += nbytes;
    }
    row->part[row->bars < 2 ? row->bars : 2] = count;
}

/* Takes white space and row numbers off both ends; false: nothing is left. */
static bool row_trim(const struct chart_text *r, const char **from, const char **to)
{
    const char *start = *from, *end = *to, *p;

    while (start < end && is_space(*start))
        start++;
    while (start < end && is_space(end[-1]))
        end--;
    for (p = start; !r->digit_is_mark && p < end && is_digit(*p);)
        p++;
    if (p > start && p < end && is_space(*p))
        for (start = p; is_space(*start);)
            start++;
    for (p = end; !r->digit_is_mark && p > start && is_digit(p[-1]);)
        p--;
    if (p < end && p > start && is_space(p[-1]))
        for (end = p; is_space(end[-1]);)
            end--;
    *from = start;
    *to = end;
    return start < end;
}

/* `;` starts a comment wherever it stands: it can be no mark. Returned: false where there is
 * no row in the line. */
static bool line_strip(struct chart_text *r, int line, const char **from, const char **to)
{
    size_t length;
    const char *text = source_line(r->source, line, &length);
    const char *comment = length ? memchr(text, ';', length) : NULL;

    *from = text;
    *to = comment ? comment : text + length;
    if (!row_trim(r, from, to))
        return false;
    if (**from != '#' || r->code['#'] != CHART_CODE_NONE)
        return true;
    if (r->hash_line == 0)
        r->hash_line = line;
    return false;
}

struct place chart_text_place(const struct chart_text *r, int line, const char *from,
                              const char *to)
{
    size_t length;
    struct place place = {r->source, line, 1, 0};

    for (const char *p = source_line(r->source, line, &length); p < to; p += chart_char_bytes(*p)) {
        if (p < from)
            place.column++;
        else
            place.width++;
    }
    if (place.width < 1)
        place.width = 1;
    return place;
}

void chart_text_fault(struct chart_text *r, enum diag_code code, struct place at, const char *what,
                      const char *todo)
{
    r->failed = true;
    diag_add(r->work->diagnostics, code, at, what, todo);
}

static void rows_scan(struct chart_text *r)
{
    int room = r->source->nlines < GRID_SIDE_MAX ? r->source->nlines : GRID_SIDE_MAX;

    r->rows = arena_alloc(r->work->arena, (size_t)room, sizeof *r->rows);
    for (int line = 1; line <= r->source->nlines; line++) {
        struct chart_row row = {.line = line, .is_fine = true};

        if (!line_strip(r, line, &row.from, &row.to))
            continue;
        if (r->nrows == GRID_SIDE_MAX) {
            chart_text_fault(
                r, DIAG_CHART_SIZE, chart_text_place(r, row.line, row.from, row.to),
                arena_printf(r->work->arena, "The chart has more than %d rows.", GRID_SIDE_MAX),
                "Chart one repeat; `upwards =` says how often it is worked.");
            return;
        }
        row_scan(r, &row);
        r->rows[r->nrows++] = row;
    }
}

/* --- second pass --------------------------------------------------------------------- */

static struct grid grid_make(struct chart_text *r, int ncols, uint8_t **cell)
{
    *cell = arena_alloc(r->work->arena, (size_t)r->nrows * (size_t)ncols, 1);
    return (struct grid){.nrows = r->nrows, .ncols = ncols, .cell = *cell};
}

/* The marks of one row, leftmost first, into cells whose first is the rightmost. */
static void row_fill(struct chart_text *r, const struct chart_row *row, uint8_t *part[3])
{
    const char *p = row->from;
    int index = 0;
    uint8_t *next = part[0];

    while (p < row->to) {
        int code = r->code[(unsigned char)*p];
        size_t nbytes = 1;

        if (code == CHART_CODE_WIDE)
            code = chart_text_code(r, p, row->to, &nbytes);
        if (code >= 0)
            *--next = (uint8_t)code;
        else if (code == CHART_CODE_BAR)
            next = part[++index];
        p += nbytes;
    }
}

static void chart_fill(struct chart_text *r, struct chart *chart)
{
    const struct chart_row *top = &r->rows[0];
    bool barred = top->bars == 2;
    uint8_t *left, *repeat, *right;

    chart->left = grid_make(r, barred ? top->part[0] : 0, &left);
    chart->repeat = grid_make(r, top->part[barred ? 1 : 0], &repeat);
    chart->right = grid_make(r, barred ? top->part[2] : 0, &right);
    for (int i = 0; i < r->nrows; i++) {
        size_t above = (size_t)(r->nrows - i); /* one past the row's last cell */
        uint8_t *repeat_end = repeat + above * (size_t)chart->repeat.ncols;
        uint8_t *part[3] = {left + above * (size_t)chart->left.ncols, repeat_end,
                            right + above * (size_t)chart->right.ncols};

        if (!barred)
            part[0] = repeat_end;
        row_fill(r, &r->rows[i], part);
    }
}

static const struct chart_written *rows_keep(const struct chart_text *r)
{
    struct chart_written *written = arena_alloc(r->work->arena, 1, sizeof *written);
    struct chart_line *lines = arena_alloc(r->work->arena, (size_t)r->nrows, sizeof *lines);

    for (int i = 0; i < r->nrows; i++) {
        const struct chart_row *row = &r->rows[r->nrows - 1 - i];

        lines[i] = (struct chart_line){row->line, row->from, row->to};
    }
    *written = (struct chart_written){r->source, lines};
    return written;
}

const struct chart *chart_read_text(struct work *work, const struct project *project,
                                    const struct source *source)
{
    struct chart_text *r = arena_alloc(work->arena, 1, sizeof *r);
    struct chart *chart = arena_alloc(work->arena, 1, sizeof *chart);
    struct place whole = {source, 0, 1, 1};

    *r = (struct chart_text){.work = work, .project = project, .source = source};
    marks_enter(r);
    rows_scan(r);
    if (r->failed)
        return NULL; /* more rows than there may be */
    chart_form_check_marks(r);
    if (r->nrows > 0)
        chart_form_check_rows(r);
    else
        chart_text_fault(r, DIAG_CHART_EMPTY, whole, "The chart has no rows.",
                         "Write the top row first, one mark for each stitch, each row on a line.");
    if (r->failed)
        return NULL;
    chart->name = source->name;
    chart->at = whole;
    chart_fill(r, chart);
    chart->written = rows_keep(r);
    return chart;
}
