package catchbay.app;

import catchbay.record.TraceText;
import catchbay.run.RunMachine;

import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;

import picocli.CommandLine.Command;
import picocli.CommandLine.IVersionProvider;
import picocli.CommandLine.Option;

import java.io.PrintStream;
import java.util.concurrent.Callable;

/** Says which version this is, of everything that a result depends on. */
@Command(name = "version", description = "Shows the versions of program, method and trace format.")
final class VersionCommand implements Callable<Integer> {

    @Option(names = "--json", description = "Prints one JSON object.")
    private boolean json;

    @Option(
            names = {"-h", "--help"},
            usageHelp = true,
            description = "Shows this help.")
    private boolean help;

    /** Made by picocli. */
    VersionCommand() {}

    @Override
    public Integer call() {
        PrintStream out = Page.out();
        ObjectNode versions =
                JsonNodeFactory.instance
                        .objectNode()
                        .put("program_version", Program.version())
                        .put("method_version", RunMachine.METHOD_VERSION)
                        .put("trace_version", TraceText.FORMAT_VERSION)
                        .put("java_version", Runtime.version().toString());
        if (json) {
            out.println(versions);
        } else {
            out.println(sentence());
        }
        out.flush();
        return Exit.DONE;
    }

    private static String sentence() {
        return "Catchbay "
                + Program.version()
                + ", method "
                + RunMachine.METHOD_VERSION
                + ", trace format "
                + TraceText.FORMAT_VERSION
                + ", Java "
                + Runtime.version();
    }

    /** The same for {@code --version}, as people try it first. */
    static final class Sentence implements IVersionProvider {

        /** Made by picocli. */
        Sentence() {}

        @Override
        public String[] getVersion() {
            return new String[] {sentence()};
        }
    }
}
