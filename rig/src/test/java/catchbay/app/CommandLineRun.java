package catchbay.app;

import java.io.ByteArrayOutputStream;
import java.io.PrintStream;
import java.nio.charset.StandardCharsets;

/**
 * One command line run in this very process, with what it printed.
 *
 * @param code its exit code
 * @param output standard output
 * @param errors standard error
 */
record CommandLineRun(int code, String output, String errors) {

    static CommandLineRun of(String... args) {
        PrintStream out = System.out;
        PrintStream err = System.err;
        ByteArrayOutputStream output = new ByteArrayOutputStream();
        ByteArrayOutputStream errors = new ByteArrayOutputStream();
        try {
            System.setOut(new PrintStream(output, true, StandardCharsets.UTF_8));
            System.setErr(new PrintStream(errors, true, StandardCharsets.UTF_8));
            int code = Main.run(args);
            return new CommandLineRun(
                    code,
                    output.toString(StandardCharsets.UTF_8),
                    errors.toString(StandardCharsets.UTF_8));
        } finally {
            System.setOut(out);
            System.setErr(err);
        }
    }
}
