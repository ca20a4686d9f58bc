package catchbay.app;

import catchbay.record.WithoutResult;
import catchbay.store.JournalFolder;

import java.io.PrintStream;
import java.util.List;
import java.util.Optional;
import java.util.function.Function;

/**
 * The journals of one kind of work, listed: those with a result in a row each, and of every other
 * one what has become of it.
 *
 * @param reader reads a last line; empty where it is no result
 * @param resultKey the key that only a result has
 * @param heading over the rows
 * @param row of a result
 * @param none said where there is no journal
 */
record JournalList<T>(
        Function<String, Optional<T>> reader,
        String resultKey,
        String heading,
        Function<T, String> row,
        String none) {

    /**
     * Prints the newest, newest first. As JSON each result is an object as it was kept; the others
     * are told as {@link LeftOut} says.
     *
     * @return the exit code: a damaged file is a failure
     */
    int print(PrintStream out, boolean json, List<JournalFolder.End> ends, int most) {
        if (!json) {
            out.println(ends.isEmpty() ? none : heading);
        }
        int code = Exit.DONE;
        LeftOut leftOut = new LeftOut();
        for (JournalFolder.End end : ends.subList(0, Math.min(most, ends.size()))) {
            Optional<T> result = reader.apply(end.lastLine());
            if (result.isPresent()) {
                out.println(json ? end.lastLine() : row.apply(result.get()));
                continue;
            }
            WithoutResult why = WithoutResult.of(end.lastLine(), end.isWhole(), resultKey);
            if (json) {
                leftOut.add(end.name(), LeftOut.inWords(why));
            } else {
                out.println(LeftOut.row(end.name(), LeftOut.inWords(why)));
            }
            code = why instanceof WithoutResult.Damaged ? Exit.FAILED : code;
        }
        leftOut.print(out);
        return code;
    }
}
