/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Shared by ini.c and ini_load.c alone: the way through iniparser.
 */
#ifndef STRANDWISE_INI_LOAD_H
#define STRANDWISE_INI_LOAD_H

#include "ini.h"

/* Hand the scanned sections and entries to iniparser and take every value back from it.
 * A value that comes back otherwise is reported and set to NULL. false, after reporting:
 * iniparser could not be handed anything. */
bool ini_load(struct work *work, const struct source *source, const struct ini_section *sections,
              int nsections, struct ini_entry *entries, int nentries);

#endif
