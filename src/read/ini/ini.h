/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Sections and keys of a project file: scanned strictly, kept in iniparser's dictionary.
 *
 * iniparser drops or alters what it does not understand in a file and says nothing, so every line is
 * scanned here and refused with its place if it could be read in two ways. What passes goes into
 * iniparser's dictionary, name and value, and is found there again.
 *
 * A comment starts at `;` or `#` at the head of a line, at `;` behind white space, and at
 * `#` behind white space with white space after it. A value may stand in "..." or '...'.
 * Section heads and keys: letter case does not count, and any white space is one space.
 * A non-breaking space is white space too. No continued lines, no backslash in a value.
 * Used by project.c.
 */
#ifndef STRANDWISE_INI_H
#define STRANDWISE_INI_H

#include <stdbool.h>
#include <stddef.h>

#include "base/source.h"

struct work;

enum {
    INI_LINE_BYTES_MAX = 1000,
    INI_HEAD_BYTES_MAX = 80,   /* of a section head; iniparser looks up 1024 with the key */
    INI_KEY_BYTES_MAX = 60,
    INI_ENTRIES_MAX = 4000, /* the dictionary's filling is quadratic: 4000 take 10 ms */
    INI_SECTIONS_MAX = 1000,
    INI_FAULTS_MAX = 200 /* then the rest of the file is not read */
};

struct ini_section {
    const char *head;  /* "band ripple": lower case, white space collapsed */
    const char *typed; /* the same with its letter case */
    struct place at;
};

struct ini_entry {
    int section;
    const char *key;   /* lower case, white space collapsed */
    const char *value; /* without its quotes; NULL: given, but a fault was reported */
    struct place key_at;
    struct place at; /* the value, inside its quotes */
};

/* All of it lives in the arena. */
struct ini {
    const struct source *source;
    const struct ini_section *sections;
    int nsections;
    const struct ini_entry *entries; /* in file order */
    int nentries;
};

/* Given: source, text.
 * Returned: what could be read, every fault reported with its place; a section given twice
 *   is reported and its keys join the first. Never NULL. */
const struct ini *ini_read(struct work *work, const struct source *source);

/* The entry of that key (lower case) in section number `section`, or NULL. */
const struct ini_entry *ini_find(const struct ini *ini, int section, const char *key);

/* length bytes from offset of an entry's value as a place (length 0: one character). */
struct place ini_value_place(const struct ini_entry *entry, size_t offset, size_t length);

#endif
