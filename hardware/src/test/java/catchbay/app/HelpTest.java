package catchbay.app;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import org.junit.jupiter.api.Test;

import java.util.ArrayList;
import java.util.List;
import java.util.Set;
import java.util.TreeSet;
import java.util.regex.Pattern;

/** Every command of the whole program helps. */
final class HelpTest {

    private static final Pattern COMMAND =
            Pattern.compile("^  ([a-z-]+) {2,}\\S.*", Pattern.MULTILINE);

    /** A row left over from a wrapped one, where the next begins anew: lines that were too long. */
    private static final Pattern TORN = Pattern.compile("\\n( +)  \\S.{0,30},?\\n\\1\\S");

    /** Of each command the list shows the first row of what it says: a whole sentence. */
    @Test
    void theListOfCommandsIsOfWholeSentences() {
        String help = CommandLineRun.of("--help").output();
        String list = help.substring(help.indexOf("Commands:"), help.indexOf("Exit codes:"));
        String[] rows = list.strip().split("\\n  (?=\\S)");
        assertTrue(rows.length > 18, list);
        for (int i = 1; i < rows.length; i++) {
            assertTrue(rows[i].endsWith("."), rows[i]);
        }
    }

    private static Set<String> commands(String help) {
        Set<String> found = new TreeSet<>();
        COMMAND.matcher(help.substring(help.indexOf("Commands:")))
                .results()
                .forEach(match -> found.add(match.group(1)));
        return found;
    }

    @Test
    void everyCommandHelps() {
        CommandLineRun all = CommandLineRun.of("--help");
        assertEquals(0, all.code());
        assertEquals("", all.errors());
        assertEquals(
                Set.of(
                        "catch",
                        "plan",
                        "sweep",
                        "replay",
                        "history",
                        "curve",
                        "budget",
                        "density",
                        "help",
                        "weights",
                        "shunt",
                        "hunt",
                        "checkup",
                        "timing",
                        "leak",
                        "compare",
                        "due",
                        "version",
                        "demo",
                        "stand-in"),
                commands(all.output()));
        assertEquals(all, CommandLineRun.of(), "without a command it helps too");

        List<List<String>> lines = new ArrayList<>();
        commands(all.output()).forEach(command -> lines.add(List.of(command)));
        commands(CommandLineRun.of("stand-in", "--help").output())
                .forEach(device -> lines.add(List.of("stand-in", device)));
        assertEquals(22, lines.size());
        for (List<String> line : lines) {
            List<String> arguments = new ArrayList<>(line);
            arguments.add("--help");
            CommandLineRun help = CommandLineRun.of(arguments.toArray(String[]::new));
            assertEquals(0, help.code(), line::toString);
            assertEquals("", help.errors(), line::toString);
            assertTrue(
                    help.output().startsWith("Usage: catchbay " + String.join(" ", line)),
                    help.output());
            assertTrue(help.output().lines().allMatch(row -> row.length() <= 80), help.output());
            assertFalse(TORN.matcher(help.output()).find(), help.output());
        }
    }

    @Test
    void theExitCodesAreExplained() {
        String help = CommandLineRun.of("--help").output();
        assertTrue(help.contains("Exit codes: 0 done"), help);
        assertTrue(help.contains("A stop by this program is no safety device."), help);
    }
}
