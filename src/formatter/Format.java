import com.google.googlejavaformat.java.Formatter;
import com.google.googlejavaformat.java.FormatterException;
import com.google.googlejavaformat.java.ImportOrderer;
import com.google.googlejavaformat.java.JavaFormatterOptions;
import com.google.googlejavaformat.java.RemoveUnusedImports;
import com.google.googlejavaformat.java.StringWrapper;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.stream.Stream;

/**
 * Formats every Java source below the project's source folders, or says which ones are not
 * formatted.
 */
final class Format {

    private static final List<String> FOLDERS =
            List.of("rig/src", "sim/src", "hardware/src", "src/formatter");

    private static final JavaFormatterOptions.Style STYLE = JavaFormatterOptions.Style.AOSP;

    private static final Formatter FORMATTER =
            new Formatter(JavaFormatterOptions.builder().style(STYLE).build());

    /** Passes after which a source must have come to rest. */
    private static final int PASSES_MAX = 8;

    private Format() {}

    /**
     * Arguments: {@code check} or {@code apply}, then the project's root folder. Exit code 1 when a
     * check fails.
     */
    public static void main(String[] arguments) throws IOException {
        boolean apply = arguments[0].equals("apply");
        if (!apply && !arguments[0].equals("check")) {
            throw new IllegalArgumentException("mode must be check or apply, was " + arguments[0]);
        }
        Path root = Path.of(arguments[1]).toRealPath();
        List<String> unformatted = new ArrayList<>();
        List<String> unreadable = new ArrayList<>();
        for (Path file : sources(root)) {
            String before = Files.readString(file);
            try {
                String after = formatted(before);
                if (!after.equals(before)) {
                    unformatted.add(root.relativize(file).toString());
                    if (apply) {
                        Files.writeString(file, after);
                    }
                }
            } catch (FormatterException e) {
                unreadable.add(root.relativize(file) + ":" + e.getMessage());
            }
        }
        System.exit(report(apply, unformatted, unreadable));
    }

    private static List<Path> sources(Path root) throws IOException {
        List<Path> files = new ArrayList<>();
        for (String folder : FOLDERS) {
            if (Files.isDirectory(root.resolve(folder))) {
                try (Stream<Path> tree = Files.walk(root.resolve(folder))) {
                    tree.filter(path -> path.toString().endsWith(".java"))
                            .sorted()
                            .forEach(files::add);
                }
            }
        }
        return files;
    }

    private static String formatted(String source) throws FormatterException {
        String ordered =
                ImportOrderer.reorderImports(
                        RemoveUnusedImports.removeUnusedImports(source), STYLE);
        // Splitting a long text can move what stands around it, and that its splits again.
        String before = ordered;
        String after = once(before);
        for (int pass = 1; pass < PASSES_MAX && !after.equals(before); pass++) {
            before = after;
            after = once(before);
        }
        return after;
    }

    private static String once(String source) throws FormatterException {
        return StringWrapper.wrap(FORMATTER.formatSource(source), FORMATTER);
    }

    private static int report(boolean apply, List<String> unformatted, List<String> unreadable) {
        unreadable.forEach(file -> System.out.println("format: cannot be parsed: " + file));
        unformatted.forEach(file ->
                System.out.println((apply ? "format: rewritten: " : "format: differs: ") + file));
        if (!apply && !unformatted.isEmpty()) {
            System.out.println(
                    "format: "
                            + unformatted.size()
                            + " file(s) are not formatted; run: sh src/format");
        }
        return unreadable.isEmpty() && (apply || unformatted.isEmpty()) ? 0 : 1;
    }
}
