/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The text of every table, as compiled in. The C file behind it is written by embed.c.
 */
#ifndef STRANDWISE_TABLES_TEXT_H
#define STRANDWISE_TABLES_TEXT_H

struct table_text {
    const char *name;           /* "allowances" */
    const char *file;           /* "tables/allowances.csv" */
    const unsigned char *bytes; /* ends in a NUL */
};

extern const struct table_text tables_text[]; /* tables_text_count of them */
extern const int tables_text_count;

#endif
