/**
 * Keeping accepted records in SQLite (migrations, transactions, adoption after a crash) belongs
 * here; computing or changing what a record says does not.
 */
package catchbay.store;
