/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The habits of a table, one function each; every fault is reported, none stops the check.
 */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "arena.h"
#include "diag.h"
#include "source.h"
#include "tables.h"
#include "work.h"

enum { SOURCES_MAX = 64, GROUPS_MAX = 2 };

/* How a table is to look. */
struct habit {
    const char *name;
    const char *columns;            /* as its column line must read */
    const char *keys;               /* columns that together name a row */
    const char *numbers;            /* columns that hold a number in every row */
    const char *open;               /* columns that hold a number or nothing */
    const char *rising[GROUPS_MAX]; /* columns whose numbers may not fall from left to right */
    bool ranges;                    /* a custom needs a range */
};

static const struct habit habits[] = {
    {"allowances",
     "key,value,low,high,unit,what,standing,source",
     "key",
     "value",
     "low,high",
     {"low,value,high", NULL},
     true},
    {"bodies",
     "sex,measure,ansur_name,n,mean_mm,sd_mm,p05_mm,p25_mm,p50_mm,p75_mm,p95_mm,standing,source",
     "sex,measure",
     "n,mean_mm,sd_mm,p05_mm,p25_mm,p50_mm,p75_mm,p95_mm",
     "",
     {"p05_mm,p25_mm,p50_mm,p75_mm,p95_mm", "p05_mm,mean_mm,p95_mm"},
     false},
    {"needles", "us,mm,also_mm,standing,source", "us", "mm", "also_mm", {NULL, NULL}, false},
    {"shades", "name,shade,standing,source", "name", "", "", {NULL, NULL}, false},
    {"yarn_weights",
     "category,name,knit_sts_4in_min,knit_sts_4in_max,needle_mm_min,needle_mm_max,standing,"
     "source",
     "category",
     "category",
     "knit_sts_4in_min,knit_sts_4in_max,needle_mm_min,needle_mm_max",
     {"knit_sts_4in_min,knit_sts_4in_max", "needle_mm_min,needle_mm_max"},
     false},
};

static const char *const units[] = {
    "in", "mm", "g", "g/cm3", "ratio", "number", "stitches", "sts/in", "sts/h", "hours", "stitch widths",
    "row heights", "yarn thicknesses", "widths", "lengths", "ends",
};

static const char *const standings[] = {
    "exact", "standard", "measured", "common practice", "memory", "judgement",
};

static const char *const head_parts[] = {
    "What", "Columns", "Sources", "Not here and why", "How to change",
};

struct checker {
    struct work *work;
    const struct table *table;
    const struct habit *habit;
    int faults;
};

static bool one_of(const char *text, const char *const *list, size_t count)
{
    for (size_t i = 0; i < count; i++)
        if (strcmp(text, list[i]) == 0)
            return true;
    return false;
}

/* row -1: the file as a whole. */
static void fault(struct checker *c, enum diag_code code, int row, const char *what,
                  const char *todo)
{
    struct place at = {.source = c->table->source,
                       .line = row < 0 ? 0 : c->table->line[row],
                       .column = 1,
                       .width = 1};

    c->faults++;
    diag_add(c->work->diagnostics, code, at, what, todo);
}

/* The next name of a list with commas; *list moves on; NULL at its end. */
static const char *next_name(struct arena *arena, const char **list)
{
    size_t length = strcspn(*list, ",");
    const char *name;

    if (length == 0)
        return NULL;
    name = arena_strndup(arena, *list, length);
    *list += length + ((*list)[length] == ',');
    return name;
}

/* --- the head ------------------------------------------------------------------------ */

/* The text below the head line `part`, up to the next part; NULL if there is no such line. */
static const char *head_part(struct checker *c, const char *part)
{
    size_t length = strlen(part);
    const char *start = c->table->head, *end;

    while (strncmp(start, part, length) != 0 || start[length] != '\n') {
        start = strchr(start, '\n');
        if (!start || *++start == '\0')
            return NULL;
    }
    start += length + 1;
    for (end = start; *end == ' ';)
        end = strchr(end, '\n') + 1; /* every line of a head ends in one */
    return arena_strndup(c->work->arena, start, (size_t)(end - start));
}

static void check_head(struct checker *c)
{
    for (size_t i = 0; i < sizeof head_parts / sizeof *head_parts; i++) {
        const char *text = head_part(c, head_parts[i]);

        if (text && text[0] != '\0')
            continue;
        fault(c, DIAG_TABLE_HEAD, -1,
              arena_printf(c->work->arena, "The head has no part \"%s\" with words below it.",
                           head_parts[i]),
              "A part is a line of its own, \"# What\" say, then lines set in by three spaces.");
    }
}

static bool is_name_char(char ch)
{
    return (ch >= 'a' && ch <= 'z') || (ch >= '0' && ch <= '9') || ch == '_';
}

static bool has_word(const char *text, const char *word)
{
    size_t length = strlen(word);

    for (const char *at = strstr(text, word); at; at = strstr(at + 1, word))
        if ((at == text || !is_name_char(at[-1])) && !is_name_char(at[length]))
            return true;
    return false;
}

static void check_columns(struct checker *c)
{
    const char *list = c->habit->columns, *name;
    const char *explained = head_part(c, "Columns");
    int i = 0;

    for (; (name = next_name(c->work->arena, &list)); i++) {
        if (i >= c->table->ncolumns || strcmp(c->table->column[i], name) != 0)
            break;
        if (explained && !has_word(explained, name))
            fault(c, DIAG_TABLE_HEAD, -1,
                  arena_printf(c->work->arena, "The head does not say what column %s holds.", name),
                  "Say it, with its unit, below \"# Columns\".");
    }
    if (name || i != c->table->ncolumns)
        fault(c, DIAG_TABLE_FORM, -1,
              arena_printf(c->work->arena, "The columns are not those of the table %s.",
                           c->table->name),
              arena_printf(c->work->arena, "The column line must read: %s", c->habit->columns));
}

/* --- rows ---------------------------------------------------------------------------- */

static const char *row_name(struct checker *c, int row)
{
    const char *list = c->habit->keys, *column, *name = NULL;

    while ((column = next_name(c->work->arena, &list))) {
        const char *field = table_field(c->table, row, column);

        name = name ? arena_printf(c->work->arena, "%s, %s", name, field) : field;
    }
    return name;
}

static void check_keys(struct checker *c)
{
    const char **names = arena_alloc(c->work->arena, (size_t)c->table->nrows, sizeof *names);

    for (int row = 0; row < c->table->nrows; row++) {
        names[row] = row_name(c, row);
        if (names[row][0] == '\0')
            fault(c, DIAG_TABLE_KEY, row, "The row has no name.",
                  "Fill its first column, or take the line out.");
        for (int before = 0; before < row; before++)
            if (strcmp(names[before], names[row]) == 0) {
                fault(c, DIAG_TABLE_KEY, row,
                      arena_printf(c->work->arena, "%s is there already, on line %d.", names[row],
                                   c->table->line[before]),
                      "Keep one of the two lines.");
                break;
            }
    }
}

static void check_number(struct checker *c, int row, const char *column, bool may_be_blank)
{
    const char *text = table_field(c->table, row, column);
    double value = table_number(c->table, row, column);

    if ((text[0] == '\0' && may_be_blank) || value >= 0)
        return;
    fault(c, DIAG_TABLE_VALUE, row,
          text[0] == '\0'
              ? arena_printf(c->work->arena, "Column %s of %s is empty.", column, row_name(c, row))
              : arena_printf(c->work->arena, "\"%s\" in column %s of %s is no number from 0 up.",
                             text, column, row_name(c, row)),
          "Write a number such as 0.05, 12 or 1/2, without a unit.");
}

static void check_rising(struct checker *c, int row, const char *group)
{
    const char *before = NULL, *column;
    double last = -1;

    while ((column = next_name(c->work->arena, &group))) {
        double value = table_number(c->table, row, column);

        if (isnan(value))
            continue;
        if (value < last)
            fault(c, DIAG_TABLE_VALUE, row,
                  arena_printf(c->work->arena, "%s: %s is less than %s.", row_name(c, row), column,
                               before),
                  "Put the numbers in order, or widen the range so that it holds the value.");
        last = value;
        before = column;
    }
}

static void check_numbers(struct checker *c, int row)
{
    const char *list = c->habit->numbers, *column;

    while ((column = next_name(c->work->arena, &list)))
        check_number(c, row, column, false);
    list = c->habit->open;
    while ((column = next_name(c->work->arena, &list)))
        check_number(c, row, column, true);
    for (int i = 0; i < GROUPS_MAX && c->habit->rising[i]; i++)
        check_rising(c, row, c->habit->rising[i]);
}

static void check_unit(struct checker *c, int row)
{
    const char *unit = table_field(c->table, row, "unit");

    if (unit && !one_of(unit, units, sizeof units / sizeof *units))
        fault(c, DIAG_TABLE_VALUE, row,
              arena_printf(c->work->arena, "The unit \"%s\" of %s is not known here.", unit,
                           row_name(c, row)),
              "Lengths are in in, parts are a ratio (0.05 for 5 per cent); keep the row's unit.");
}

static void check_shade(struct checker *c, int row)
{
    const char *shade = table_field(c->table, row, "shade");
    const char *name = table_field(c->table, row, "name");

    if (!shade)
        return;
    if (shade[0] != '#' || strlen(shade) != 7 || strspn(shade + 1, "0123456789abcdefABCDEF") != 6)
        fault(c, DIAG_TABLE_VALUE, row,
              arena_printf(c->work->arena, "The shade \"%s\" of %s cannot be read.", shade, name),
              "Write # and six of 0-9 and a-f: #f3ead7.");
    if (name[strspn(name, "abcdefghijklmnopqrstuvwxyz")] != '\0')
        fault(c, DIAG_TABLE_KEY, row,
              arena_printf(c->work->arena, "The name \"%s\" is not in small letters only.", name),
              "Write it without capitals, spaces and figures: mossgreen.");
}

static void check_custom(struct checker *c, int row)
{
    const char *standing = table_field(c->table, row, "standing");

    if (!one_of(standing, standings, sizeof standings / sizeof *standings))
        fault(c, DIAG_TABLE_SOURCE, row,
              arena_printf(c->work->arena, "The standing \"%s\" of %s is not known here.", standing,
                           row_name(c, row)),
              "Write exact, standard, measured, common practice, memory or judgement.");
    if (c->habit->ranges && strcmp(standing, "common practice") == 0 &&
        (isnan(table_number(c->table, row, "low")) || isnan(table_number(c->table, row, "high"))))
        fault(c, DIAG_TABLE_VALUE, row,
              arena_printf(c->work->arena, "%s is a custom without a range.", row_name(c, row)),
              "Fill low and high: customs differ.");
}

/* --- sources ------------------------------------------------------------------------- */

/* The sources of the head, numbered from 1 in order. Returned: how many; -1 reported. */
static int sources_count(struct checker *c)
{
    const char *text = head_part(c, "Sources");
    int count = 0;

    for (; text && *text; text = strchr(text, '\n') + 1) {
        const char *word = text + strspn(text, " ");
        char *end;
        long number = strtol(word, &end, 10);

        if (end == word || word[0] < '0' || word[0] > '9' || end[0] != '.' || end[1] != ' ' ||
            text[0] != ' ' || strspn(text, " ") > 3)
            continue; /* a line that goes on */
        if (number == count + 1 && count < SOURCES_MAX) {
            count++;
            continue;
        }
        fault(c, DIAG_TABLE_SOURCE, -1,
              arena_printf(c->work->arena, "Source %ld of the head stands where %d should.", number,
                           count + 1),
              "Number the sources 1., 2., 3. and so on.");
        return -1;
    }
    return count;
}

/* "1", "2+3": marks each as used. Returned: false where the field is no such thing. */
static bool sources_mark(const char *field, int nsources, bool *used)
{
    for (;;) {
        char *end;
        long number = strtol(field, &end, 10);

        if (end == field || field[0] < '1' || field[0] > '9' || number > nsources)
            return false;
        used[number] = true;
        if (*end == '\0')
            return true;
        if (*end != '+')
            return false;
        field = end + 1;
    }
}

static void check_source(struct checker *c, int row, int nsources, bool *used)
{
    const char *source = table_field(c->table, row, "source");
    const char *standing = table_field(c->table, row, "standing");
    bool may_be_none =
        strcmp(standing, "common practice") == 0 || strcmp(standing, "judgement") == 0;

    if (strcmp(source, "none") == 0 ? may_be_none : sources_mark(source, nsources, used))
        return;
    fault(c, DIAG_TABLE_SOURCE, row,
          arena_printf(c->work->arena, "The source \"%s\" of %s is not in the head's list.", source,
                       row_name(c, row)),
          "Write the number of a source of the head (1, or 1+2); none goes only with common "
          "practice and judgement.");
}

static void check_sources(struct checker *c)
{
    bool used[SOURCES_MAX + 1] = {false};
    int nsources = sources_count(c);

    if (nsources < 0)
        return;
    for (int row = 0; row < c->table->nrows; row++)
        check_source(c, row, nsources, used);
    for (int i = 1; i <= nsources; i++)
        if (!used[i])
            fault(c, DIAG_TABLE_SOURCE, -1,
                  arena_printf(c->work->arena, "No row uses source %d of the head.", i),
                  "Take it out of the list, or name it in the row it belongs to.");
}

int tables_check(struct work *work, const struct table *table)
{
    struct checker c = {work, table, NULL, 0};

    for (size_t i = 0; i < sizeof habits / sizeof *habits; i++)
        if (strcmp(habits[i].name, table->name) == 0)
            c.habit = &habits[i];
    if (!c.habit) {
        fault(&c, DIAG_TABLE_KEY, -1,
              arena_printf(work->arena, "No table is called %s.", table->name),
              "Name your copy as the table it stands in for: allowances.csv, say.");
        return c.faults;
    }
    check_head(&c);
    check_columns(&c);
    if (table->nrows == 0)
        fault(&c, DIAG_TABLE_FORM, -1, "The table has no rows.", "Give it at least one.");
    if (c.faults > 0)
        return c.faults; /* rows cannot be judged by the wrong columns */
    check_keys(&c);
    for (int row = 0; row < table->nrows; row++) {
        check_numbers(&c, row);
        check_unit(&c, row);
        check_shade(&c, row);
        check_custom(&c, row);
    }
    check_sources(&c);
    return c.faults;
}
