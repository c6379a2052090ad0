/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The tables the plan stands on: text files in tables/, compiled in, read at start-up.
 *
 * A table file: comment lines (#) that head it (What, Columns, Sources, Not here and why,
 * How to change), one line of column names, then one fact a line, commas between, a field
 * in double quotes where it holds a comma. Every row ends in the columns `standing` and
 * `source`: standing is exact, standard, measured, common practice, memory or judgement (a
 * modelling choice of ours); source is a number (or numbers joined by +) of the head's
 * list, or "none" with common practice and judgement. A row of common practice in a table
 * with a range gives one.
 */
#ifndef STRANDWISE_TABLES_H
#define STRANDWISE_TABLES_H

#include <stdbool.h>

#include "rational.h"

struct source;
struct work;

struct table {
    const char *name;  /* "allowances" for tables/allowances.csv */
    const char *head;  /* the comment lines, without their #, newline between */
    const char *text;  /* the whole file, for `strandwise tables NAME` */
    const char *origin; /* "built in", or the path named on the command line */
    const struct source *source; /* for places */
    const char *const *column; /* ncolumns names */
    int ncolumns;
    const char *const *field;  /* field[nrows * ncolumns], row-major */
    const int *line;           /* nrows: line of the row in the file */
    int nrows;
};

/* A row of tables/allowances.csv: one number of the trade. */
struct allowance {
    const char *key;      /* "slack_default" */
    double value;
    double low, high;     /* the range in use; NaN where the table leaves it blank */
    const char *unit;     /* "ratio", "in", "stitch widths", ... */
    const char *standing;
    const char *source;   /* as in the table: "1", "2+3", "none" */
    const char *what;     /* the words shown in the plan */
    int line;
};

struct tables;

/* Load the compiled-in tables into work->arena. Faults (only possible with a wrong build)
 * are reported. NULL then. */
const struct tables *tables_load(struct work *work);

/* The same with the file at path in place of the compiled-in table of the same base name.
 * Checked as `make tables` checks (see tables_check). NULL after reporting. */
const struct tables *tables_override(struct work *work, const struct tables *tables,
                                     const char *path);

int tables_count(const struct tables *tables);
const struct table *tables_at(const struct tables *tables, int index);
const struct table *tables_find(const struct tables *tables, const char *name); /* or NULL */

/* The table in source, named after it: columns and rows split, nothing judged but the form.
 * NULL after reporting each line that cannot be split. */
const struct table *table_read(struct work *work, const struct source *source,
                               const char *origin);

/* A field by column name; "" if blank; NULL if no such column. */
const char *table_field(const struct table *table, int row, const char *column);
/* A number field; NaN if blank. */
double table_number(const struct table *table, int row, const char *column);

/* Never NULL. The compiled-in table decides which keys there are, and a table in its place
 * must have them all; a key that no table has gives an allowance of NaN, named "". */
const struct allowance *tables_allowance(const struct tables *tables, const char *key);
double tables_value(const struct tables *tables, const char *key); /* its value */
struct rational tables_exact(const struct tables *tables, const char *key); /* to the millionth */

/* Allowances by number, to walk them. */
int tables_allowance_count(const struct tables *tables);
const struct allowance *tables_allowance_at(const struct tables *tables, int index);

/* Every habit of a table: head parts present, columns as declared, units known, ranges ordered and
 * holding the value, keys unique, every source used and every row sourced. Reports each
 * fault with its line; returns how many. */
int tables_check(struct work *work, const struct table *table);

/* A shade by CSS name ("ivory") or #rgb / #rrggbb; false if neither. rgb[3] 0..255. */
bool tables_shade(const struct tables *tables, const char *text, unsigned char rgb[3]);

#endif
