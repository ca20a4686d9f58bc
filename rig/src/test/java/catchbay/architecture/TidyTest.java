package catchbay.architecture;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import org.junit.jupiter.api.Test;

import java.io.IOException;
import java.nio.file.FileVisitResult;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.SimpleFileVisitor;
import java.nio.file.attribute.BasicFileAttributes;
import java.util.ArrayList;
import java.util.List;
import java.util.Set;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * What the compiler and the formatter do not see: unfinished work, vague names, paths of one
 * machine.
 */
final class TidyTest {

    private static final Path ROOT = Path.of("..").toAbsolutePath().normalize();

    private static final Set<String> FOLDERS_SKIPPED = Set.of("target", ".git", ".idea", ".vscode");

    private static final Pattern TYPE =
            Pattern.compile("\\b(?:class|interface|record|enum) (\\w+)");

    private static final Set<String> TEXT =
            Set.of("java", "sh", "xml", "md", "toml", "sql", "properties", "options");

    private static final int COLUMNS_MAX = 120;

    /** Put together from halves, so that this file does not find itself. */
    private static final Pattern UNFINISHED =
            Pattern.compile("\\b(TO" + "DO|FIX" + "ME|X" + "XX)\\b|@Dis" + "abled");

    private static final Pattern MACHINE_PATH =
            Pattern.compile("(?<![\\w.}$*-])/(home|root|Users|work|mnt)" + "/");

    private static final Pattern VAGUE_NAME = Pattern.compile("\\w+(Impl|Manager|Utils?|Helper)");

    @Test
    void sourcesAreTidy() throws IOException {
        List<String> complaints = new ArrayList<>();
        List<Path> files = sources();
        for (Path file : files) {
            complaints.addAll(complaints(ROOT.relativize(file).toString(), Files.readString(file)));
        }
        assertTrue(files.size() > 20, "the sources were really read");
        assertEquals(List.of(), complaints);
    }

    @Test
    void everyPackageSaysWhatBelongsInIt() throws IOException {
        List<String> missing =
                sources().stream()
                        .filter(file -> file.toString().contains("/src/main/java/"))
                        .map(Path::getParent)
                        .distinct()
                        .filter(folder -> !Files.exists(folder.resolve("package-info.java")))
                        .map(folder -> ROOT.relativize(folder).toString())
                        .toList();
        assertEquals(
                List.of(),
                missing,
                "packages without package-info.java (one sentence: what belongs, what not)");
    }

    @Test
    void plantedLinesAreFound() {
        assertComplaint(
                "a/Volume.java",
                "// TO" + "DO later",
                "a/Volume.java:1: unfinished work is banned");
        assertComplaint(
                "a/Volume.java", "\n@Dis" + "abled", "a/Volume.java:2: unfinished work is banned");
        assertComplaint(
                "a/run.sh",
                "cd /ho" + "me/somebody",
                "a/run.sh:1: a path of one machine is banned");
        assertComplaint(
                "a/Volume.java",
                "x".repeat(121),
                "a/Volume.java:1: a line of 121 columns is banned");
        assertComplaint(
                "a/VolumeUtils.java", "", "a/VolumeUtils.java: the name VolumeUtils is banned");
        assertComplaint(
                "a/Volume.java",
                "record VolumeIm" + "pl() {}",
                "a/Volume.java:1: the name VolumeIm" + "pl");
        assertEquals(List.of(), complaints("a/Volume.java", "x".repeat(120) + "\nclass Pump {}"));
        assertEquals(List.of(), complaints("a/table.md", "x".repeat(121)));
    }

    private static void assertComplaint(String file, String text, String expected) {
        List<String> complaints = complaints(file, text);
        assertTrue(
                complaints.size() == 1 && complaints.getFirst().startsWith(expected),
                complaints::toString);
    }

    /** All complaints about one file, each reading "FILE:LINE: X is banned, use Y". */
    private static List<String> complaints(String file, String text) {
        List<String> complaints = new ArrayList<>();
        boolean java = file.endsWith(".java");
        String name = file.substring(file.lastIndexOf('/') + 1).replace(".java", "");
        if (java && VAGUE_NAME.matcher(name).matches()) {
            complaints.add(file + ": the name " + name + " is banned, use a noun of the shop");
        }
        String[] lines = text.split("\n", -1);
        for (int i = 0; i < lines.length; i++) {
            String where = file + ":" + (i + 1) + ": ";
            if (UNFINISHED.matcher(lines[i]).find()) {
                complaints.add(where + "unfinished work is banned, use finished work or an issue");
            }
            if (MACHINE_PATH.matcher(lines[i]).find()) {
                complaints.add(
                        where
                                + "a path of one machine is banned, use a relative path or a"
                                + " setting");
            }
            if (!file.endsWith(".md") && lines[i].length() > COLUMNS_MAX) {
                complaints.add(
                        where
                                + "a line of "
                                + lines[i].length()
                                + " columns is banned, use two lines");
            }
            Matcher type = TYPE.matcher(lines[i]);
            if (java
                    && type.find()
                    && !type.group(1).equals(name)
                    && VAGUE_NAME.matcher(type.group(1)).matches()) {
                complaints.add(
                        where + "the name " + type.group(1) + " is banned, use a noun of the shop");
            }
        }
        return complaints;
    }

    private static List<Path> sources() throws IOException {
        List<Path> files = new ArrayList<>();
        Files.walkFileTree(
                ROOT,
                new SimpleFileVisitor<>() {
                    @Override
                    public FileVisitResult preVisitDirectory(
                            Path folder, BasicFileAttributes attributes) {
                        return FOLDERS_SKIPPED.contains(folder.getFileName().toString())
                                ? FileVisitResult.SKIP_SUBTREE
                                : FileVisitResult.CONTINUE;
                    }

                    @Override
                    public FileVisitResult visitFile(Path file, BasicFileAttributes attributes) {
                        String name = file.getFileName().toString();
                        // Scripts without an ending: src/catchbay, src/verify, .ci/run.
                        if (TEXT.contains(name.substring(name.lastIndexOf('.') + 1))
                                || Files.isExecutable(file)) {
                            files.add(file);
                        }
                        return FileVisitResult.CONTINUE;
                    }
                });
        return files.stream().sorted().toList();
    }
}
