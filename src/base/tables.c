/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "tables.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>

#include "arena.h"
#include "diag.h"
#include "number.h"
#include "source.h"
#include "tables_text.h"
#include "work.h"

enum { TABLE_BYTES_MAX = 256 << 10, TABLE_COLUMNS_MAX = 32 };

struct tables {
    const struct table **table;
    int ntables;
    struct allowance *allowances; /* the rows of "allowances" with their numbers read */
    int nallowances;
};

/* --- one line into fields ----------------------------------------------------------- */

static bool is_blank(char c)
{
    return c == ' ' || c == '\t';
}

/* A line being split: fields are written one behind the other into one buffer, which their
 * line's length bounds (each leaves at least its comma behind). */
struct splitter {
    const char *line;
    size_t length, at;
    char *out;
};

/* A field in double quotes; NULL where a quote is out of place. */
static const char *field_quoted(struct splitter *s)
{
    const char *field = s->out;

    for (s->at++; s->at < s->length; s->at++) {
        if (s->line[s->at] == '"' && (s->at + 1 == s->length || s->line[s->at + 1] != '"'))
            break;
        if (s->line[s->at] == '"')
            s->at++; /* a quote is written twice */
        *s->out++ = s->line[s->at];
    }
    if (s->at == s->length)
        return NULL;
    *s->out++ = '\0';
    for (s->at++; s->at < s->length && is_blank(s->line[s->at]); s->at++)
        ;
    return s->at == s->length || s->line[s->at] == ',' ? field : NULL;
}

static const char *field_next(struct splitter *s)
{
    char *field = s->out;

    while (s->at < s->length && is_blank(s->line[s->at]))
        s->at++;
    if (s->at < s->length && s->line[s->at] == '"')
        return field_quoted(s);
    while (s->at < s->length && s->line[s->at] != ',') {
        if (s->line[s->at] == '"')
            return NULL;
        *s->out++ = s->line[s->at++];
    }
    while (s->out > field && is_blank(s->out[-1]))
        s->out--;
    *s->out++ = '\0';
    return field;
}

/* Fields of a line, at most limit written. Returned: how many there are; -1: a stray quote. */
static int line_split(struct arena *arena, const char *line, size_t length, const char **field,
                      int limit)
{
    struct splitter s = {line, length, 0, arena_alloc(arena, length + 1, 1)};
    int count = 0;

    for (;;) {
        const char *read = field_next(&s);

        if (!read)
            return -1;
        if (count < limit)
            field[count] = read;
        count++;
        if (s.at == length)
            return count;
        s.at++;
    }
}

/* --- a file into a table ------------------------------------------------------------ */

static struct place line_place(const struct source *source, int line)
{
    return (struct place){.source = source, .line = line, .column = 1, .width = 1};
}

static const char *table_name(struct arena *arena, const char *path)
{
    const char *base = strrchr(path, '/') ? strrchr(path, '/') + 1 : path;
    size_t length = strlen(base);

    if (length > 4 && strcmp(base + length - 4, ".csv") == 0)
        length -= 4;
    return arena_strndup(arena, base, length);
}

/* The comment lines at the head, without their # and the space after it; *next: the line
 * behind them (from 1). */
static const char *head_read(struct work *work, const struct source *source, int *next)
{
    char *head = arena_alloc(work->arena, source->nbytes + 2, 1);
    size_t used = 0, length;
    int line;

    for (line = 1; line <= source->nlines; line++) {
        const char *text = source_line(source, line, &length);
        size_t skip = length > 1 && text[1] == ' ' ? 2 : 1;

        if (length > 0 && text[0] != '#')
            break;
        if (length == 0)
            continue;
        memcpy(head + used, text + skip, length - skip);
        used += length - skip;
        head[used++] = '\n';
    }
    head[used] = '\0';
    *next = line;
    return head;
}

static bool row_read(struct work *work, const struct table *table, int line, const char **field)
{
    size_t length;
    const char *text = source_line(table->source, line, &length);
    int count = line_split(work->arena, text, length, field, table->ncolumns);

    if (count == table->ncolumns)
        return true;
    if (count < 0)
        diag_add(work->diagnostics, DIAG_TABLE_FORM, line_place(table->source, line),
                 "A double quote stands where none can.",
                 "Put quotes round the whole field, and write a quote inside it twice.");
    else
        diag_add(work->diagnostics, DIAG_TABLE_FORM, line_place(table->source, line),
                 arena_printf(work->arena, "This line has %d fields, the column line has %d.",
                              count, table->ncolumns),
                 "Set fields off by commas; a field that holds a comma goes in double quotes.");
    return false;
}

static bool columns_read(struct work *work, struct table *table, int line)
{
    const char **column = arena_alloc(work->arena, TABLE_COLUMNS_MAX, sizeof *column);
    size_t length;
    const char *text = source_line(table->source, line, &length);
    int count = line > table->source->nlines
                    ? 0
                    : line_split(work->arena, text, length, column, TABLE_COLUMNS_MAX);

    table->column = column;
    table->ncolumns = count;
    if (count > 0 && count <= TABLE_COLUMNS_MAX)
        return true;
    diag_add(work->diagnostics, DIAG_TABLE_FORM, line_place(table->source, count == 0 ? 0 : line),
             "There is no line of column names behind the head.",
             "Put the names of the columns, commas between, behind the lines that start with #.");
    return false;
}

const struct table *table_read(struct work *work, const struct source *source, const char *origin)
{
    struct table *table = arena_alloc(work->arena, 1, sizeof *table);
    size_t nlines = (size_t)source->nlines;
    const char **field;
    int *row_line = arena_alloc(work->arena, nlines, sizeof *row_line);
    int first;
    bool good = true;

    table->name = table_name(work->arena, source->name);
    table->origin = origin;
    table->source = source;
    table->text = source->bytes;
    table->head = head_read(work, source, &first);
    if (!columns_read(work, table, first))
        return NULL;
    field = arena_alloc(work->arena, nlines * (size_t)table->ncolumns, sizeof *field);
    for (int line = first + 1; line <= source->nlines; line++) {
        size_t length;
        const char *text = source_line(source, line, &length);

        if (length == 0 || text[0] == '#')
            continue;
        row_line[table->nrows] = line;
        if (row_read(work, table, line, field + table->nrows * table->ncolumns))
            table->nrows++;
        else
            good = false;
    }
    table->field = field;
    table->line = row_line;
    return good ? table : NULL;
}

/* --- looking things up -------------------------------------------------------------- */

const char *table_field(const struct table *table, int row, const char *column)
{
    for (int i = 0; i < table->ncolumns; i++)
        if (strcmp(table->column[i], column) == 0)
            return table->field[row * table->ncolumns + i];
    return NULL;
}

double table_number(const struct table *table, int row, const char *column)
{
    const char *text = table_field(table, row, column);
    struct rational value;
    size_t used;

    if (!text || text[0] == '\0')
        return (double)NAN;
    if (number_read(text, strlen(text), &value, &used) < 0 || text[used] != '\0')
        return (double)NAN;
    return rational_double(value);
}

int tables_count(const struct tables *tables)
{
    return tables->ntables;
}

const struct table *tables_at(const struct tables *tables, int index)
{
    return tables->table[index];
}

const struct table *tables_find(const struct tables *tables, const char *name)
{
    for (int i = 0; i < tables->ntables; i++)
        if (strcmp(tables->table[i]->name, name) == 0)
            return tables->table[i];
    return NULL;
}

static const char *field_or_empty(const struct table *table, int row, const char *column)
{
    const char *field = table_field(table, row, column);

    return field ? field : "";
}

static void allowances_fill(struct work *work, struct tables *tables)
{
    const struct table *table = tables_find(tables, "allowances");

    if (!table)
        return;
    tables->nallowances = table->nrows;
    tables->allowances = arena_alloc(work->arena, (size_t)table->nrows, sizeof *tables->allowances);
    for (int row = 0; row < table->nrows; row++)
        tables->allowances[row] = (struct allowance){
            .key = field_or_empty(table, row, "key"),
            .value = table_number(table, row, "value"),
            .low = table_number(table, row, "low"),
            .high = table_number(table, row, "high"),
            .unit = field_or_empty(table, row, "unit"),
            .standing = field_or_empty(table, row, "standing"),
            .source = field_or_empty(table, row, "source"),
            .what = field_or_empty(table, row, "what"),
            .line = table->line[row],
        };
}

const struct allowance *tables_allowance(const struct tables *tables, const char *key)
{
    static const struct allowance none = {"", (double)NAN, (double)NAN, (double)NAN, "", "", "", "",
                                          0};

    for (int i = 0; i < tables->nallowances; i++)
        if (strcmp(tables->allowances[i].key, key) == 0)
            return &tables->allowances[i];
    return &none;
}

double tables_value(const struct tables *tables, const char *key)
{
    return tables_allowance(tables, key)->value;
}

struct rational tables_exact(const struct tables *tables, const char *key)
{
    return rational_millionths(tables_value(tables, key));
}

int tables_allowance_count(const struct tables *tables)
{
    return tables->nallowances;
}

const struct allowance *tables_allowance_at(const struct tables *tables, int index)
{
    return &tables->allowances[index];
}

/* --- loading ------------------------------------------------------------------------ */

const struct tables *tables_load(struct work *work)
{
    struct tables *tables = arena_alloc(work->arena, 1, sizeof *tables);
    bool good = true;

    tables->table = arena_alloc(work->arena, (size_t)tables_text_count, sizeof *tables->table);
    for (int i = 0; i < tables_text_count; i++) {
        const struct source *source =
            source_from_text(work, tables_text[i].file, (const char *)tables_text[i].bytes);
        const struct table *table = table_read(work, source, "built in");

        if (table)
            tables->table[tables->ntables++] = table;
        else
            good = false;
    }
    allowances_fill(work, tables);
    return good ? tables : NULL;
}

/* Every key the program may ask for must be in the table that stands in for ours. */
static int keys_compare(struct work *work, const struct table *ours, const struct table *theirs)
{
    int missing = 0;

    for (int row = 0; row < ours->nrows; row++) {
        const char *key = ours->field[row * ours->ncolumns];
        bool found = false;

        for (int other = 0; other < theirs->nrows && !found; other++)
            found = strcmp(theirs->field[other * theirs->ncolumns], key) == 0;
        if (found)
            continue;
        missing++;
        diag_add(work->diagnostics, DIAG_TABLE_KEY, line_place(theirs->source, 0),
                 arena_printf(work->arena, "There is no row %s.", key),
                 arena_printf(work->arena, "Keep it as it stands in the built-in table: %s.",
                              field_or_empty(ours, row, "what")));
    }
    return missing;
}

const struct tables *tables_override(struct work *work, const struct tables *tables,
                                     const char *path)
{
    struct tables *mine = arena_alloc(work->arena, 1, sizeof *mine);
    const struct source *source =
        source_read(work, path, SOURCE_TEXT, TABLE_BYTES_MAX, (struct place){0});
    const struct table *table = source ? table_read(work, source, path) : NULL;

    if (!table || tables_check(work, table) > 0)
        return NULL;
    *mine = *tables;
    mine->table = arena_alloc(work->arena, (size_t)tables->ntables, sizeof *mine->table);
    for (int i = 0; i < tables->ntables; i++)
        mine->table[i] = strcmp(tables->table[i]->name, table->name) == 0 ? table : tables->table[i];
    if (strcmp(table->name, "allowances") == 0 &&
        keys_compare(work, tables_find(tables, "allowances"), table) > 0)
        return NULL;
    allowances_fill(work, mine);
    return mine;
}

/* --- shades ------------------------------------------------------------------------- */

/* #abc is #aabbcc. */
static bool shade_from_hex(const char *text, unsigned char rgb[3])
{
    size_t digits = strlen(text) / 3; /* of each channel */

    if ((digits != 1 && digits != 2) || strspn(text, "0123456789abcdefABCDEF") != 3 * digits || text[3 * digits])
        return false;
    for (size_t i = 0; i < 3; i++) {
        const char channel[] = {text[i * digits], text[i * digits + digits - 1], '\0'};

        rgb[i] = (unsigned char)strtoul(channel, NULL, 16);
    }
    return true;
}

bool tables_shade(const struct tables *tables, const char *text, unsigned char rgb[3])
{
    const struct table *shades = tables_find(tables, "shades");

    if (text[0] == '#')
        return shade_from_hex(text + 1, rgb);
    for (int row = 0; shades && row < shades->nrows; row++) {
        const char *shade = field_or_empty(shades, row, "shade");

        if (strcasecmp(field_or_empty(shades, row, "name"), text) == 0 && shade[0] == '#')
            return shade_from_hex(shade + 1, rgb);
    }
    return false;
}
