/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The starter project: small, true, and commented for a first reader.
 */
#ifndef STRANDWISE_STARTER_H
#define STRANDWISE_STARTER_H

enum { STARTER_FILES = 2 };

struct starter_file {
    const char *name;
    const char *text;
};

extern const struct starter_file starter_files[STARTER_FILES]; /* the project first */

#endif
