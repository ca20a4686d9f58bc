package catchbay.app;

import catchbay.record.ResultText;
import catchbay.record.SeriesText;
import catchbay.run.BayComputer;
import catchbay.run.Outcome;
import catchbay.run.RunSetup;
import catchbay.run.SeriesResult;

import java.io.PrintStream;
import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.function.Consumer;
import java.util.function.Supplier;

/** Where results go: standard output, as words for a person or as one JSON object for a machine. */
final class Page {

    private Page() {}

    static void print(
            boolean json, ResultText.Provenance provenance, RunSetup setup, Outcome outcome) {
        PrintStream out = out();
        if (json) {
            out.println(ResultText.of(provenance, setup, outcome));
        } else {
            Words.print(out, provenance, setup, outcome);
        }
        out.flush();
    }

    static void print(boolean json, SeriesResult result, BayComputer computer) {
        print(json, () -> SeriesText.of(result), out -> SeriesWords.print(out, result), computer);
    }

    /**
     * Prints any result but a single catch's.
     *
     * @param line it as JSON
     * @param page prints it in words
     * @param computer what was told of the bay's computer
     */
    static void print(
            boolean json, Supplier<String> line, Consumer<PrintStream> page, BayComputer computer) {
        PrintStream out = out();
        if (json) {
            out.println(line.get());
        } else {
            page.accept(out);
        }
        notes(json, out, computer);
        out.flush();
    }

    /**
     * What a person should know of the bay's computer beside any result but a single catch's, which
     * has it in its record: below the page, or beside the one JSON object on the error stream.
     */
    static void notes(boolean json, PrintStream out, BayComputer computer) {
        List<String> notes = computer.notes();
        if (json) {
            notes.forEach(note -> System.err.println("catchbay: " + note));
        } else if (!notes.isEmpty()) {
            out.println();
            notes.forEach(note -> Words.paragraph(out, note));
        }
    }

    /**
     * Standard output in UTF-8, whatever the machine's locale, once all that was told before it is
     * on the screen.
     */
    static PrintStream out() {
        Screen.standardError().settle();
        return new PrintStream(System.out, false, StandardCharsets.UTF_8);
    }
}
