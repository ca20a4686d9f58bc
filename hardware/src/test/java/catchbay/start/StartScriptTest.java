package catchbay.start;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import static java.nio.charset.StandardCharsets.UTF_8;

import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.TimeUnit;
import java.util.stream.Stream;

/**
 * {@code src/catchbay} as it is shipped, on a machine made for the test: a folder of commands for a
 * PATH, JDKs and a Maven that only leave traces. What it does with the real ones is shown by every
 * start from a checkout.
 */
final class StartScriptTest {

    private static final int SET_UP_FAILED = 70;

    /** As of the program itself, where what was to be printed cannot be written. */
    private static final int PROGRAM_FAILED = 3;

    /** What the scripts may use besides the shell: the commands every Debian machine has. */
    private static final List<String> COMMANDS =
            List.of(
                    "sh",
                    "basename",
                    "cat",
                    "chmod",
                    "cksum",
                    "cp",
                    "cut",
                    "date",
                    "dirname",
                    "find",
                    "flock",
                    "grep",
                    "head",
                    "mkdir",
                    "readlink",
                    "rm",
                    "sed",
                    "sleep",
                    "sort",
                    "touch");

    @TempDir Path folder;

    private Path root;
    private Path commands;
    private Path jdks;

    record Ended(int code, String output, String errors) {}

    @BeforeEach
    void makeMachine() throws IOException {
        // A space in the name: a shop's folder may have one.
        root = Files.createDirectories(folder.resolve("catch bay"));
        commands = Files.createDirectories(folder.resolve("commands"));
        jdks = Files.createDirectories(folder.resolve("jdks"));
        Path project = Path.of("..").toAbsolutePath().normalize();
        for (String file : List.of("src/catchbay", "src/lib/setup.sh", "src/jvm.options")) {
            Files.createDirectories(root.resolve(file).getParent());
            Files.copy(project.resolve(file), root.resolve(file));
        }
        write(root.resolve("pom.xml"), "<project/>");
        for (String module : List.of("rig", "sim", "hardware")) {
            write(root.resolve(module + "/pom.xml"), "<project/>");
        }
        write(root.resolve("rig/src/main/java/Pump.java"), "class Pump {}");
        for (String command : COMMANDS) {
            command(command, "exec " + found(command) + " \"$@\"");
        }
        command("id", "echo 1000");
        command(
                "mvn",
                "echo \"built with $JAVA_HOME\" >>\""
                        + root
                        + "/builds\"; mkdir -p \""
                        + root
                        + "/target/catchbay/lib\"");
    }

    @Test
    void buildsOnceThenStartsTheProgram() throws Exception {
        Path jdk = jdk("jdk-25", "25.0.3");
        Ended first = start(root, "sh", "src/catchbay", "catch", "two words");
        assertEquals(0, first.code, first.errors);
        assertEquals(
                List.of(
                        "@" + root + "/src/jvm.options",
                        "-cp",
                        root + "/target/catchbay/lib/*",
                        "catchbay.app.Main",
                        "catch",
                        "two words"),
                first.output.lines().toList(),
                "standard output belongs to the program");
        assertTrue(first.errors.contains("Building Catchbay"), first.errors);

        Ended second = start(root, "sh", "src/catchbay", "catch");
        assertEquals(0, second.code);
        assertEquals("", second.errors, "nothing to do, nothing to say");
        assertEquals(List.of("built with " + jdk), builds());
    }

    @Test
    void aChangedSourceIsStaleAndATestIsNot() throws Exception {
        jdk("jdk-25", "25");
        start(root, "sh", "src/catchbay");
        write(root.resolve("rig/src/test/java/PumpTest.java"), "class PumpTest {}");
        start(root, "sh", "src/catchbay");
        assertEquals(1, builds().size(), "a test is no part of the program");

        // Older than the build, as files from an unpacked archive are.
        Path source = root.resolve("rig/src/main/java/Pump.java");
        var before = Files.getLastModifiedTime(source);
        write(source, "class Pump { int strokes; }");
        Files.setLastModifiedTime(source, before);
        start(root, "sh", "src/catchbay");
        assertEquals(2, builds().size(), "changed content");

        Files.delete(source);
        start(root, "sh", "src/catchbay");
        assertEquals(3, builds().size(), "a source is gone");

        write(root.resolve("pom.xml"), "<project></project>");
        start(root, "sh", "src/catchbay");
        assertEquals(4, builds().size(), "a changed pom");
    }

    @Test
    void worksFromAnywhereAndThroughALink() throws Exception {
        jdk("jdk-25", "25");
        Path link = Files.createSymbolicLink(folder.resolve("bay"), root.resolve("src/catchbay"));
        Ended ended = start(folder, "sh", link.toString(), "demo");
        assertEquals(0, ended.code, ended.errors);
        assertTrue(ended.output.contains(root + "/target/catchbay/lib/*"), ended.output);
    }

    @Test
    void takesTheFirstJdkThatIsNewEnough() throws Exception {
        jdk("a-17", "17.0.15");
        jdk("b-1.8", "1.8.0_402");
        Path later = jdk("c-26", "26-ea");
        Path runtimeOnly = jdk("a-25-runtime", "25.0.3");
        Files.delete(runtimeOnly.resolve("bin/javac"));
        assertEquals(0, start(root, "sh", "src/catchbay").code);
        assertEquals(List.of("built with " + later), builds());
    }

    @Test
    void withoutAJdkItSaysWhatToInstall() throws Exception {
        jdk("jdk-17", "17.0.15");
        Ended ended = start(root, "sh", "src/catchbay", "demo");
        assertEquals(SET_UP_FAILED, ended.code);
        assertEquals("", ended.output);
        assertOneSentence(ended, "no JDK 25 or newer found");
        assertTrue(
                ended.errors.contains("install one (Debian package openjdk-25-jdk-headless"),
                ended.errors);
        assertFalse(Files.exists(root.resolve("builds")));
    }

    @Test
    void asRootItInstallsWhatTheDistributionHas() throws Exception {
        command("id", "echo 0");
        command("apt-cache", "exit 0");
        Path prepared = jdk("../prepared", "25.0.1");
        command(
                "apt-get",
                "echo \"$@\" >>\""
                        + root
                        + "/installed\"; cp -R \""
                        + prepared
                        + "\" \""
                        + jdks
                        + "/jdk-25\"");
        Ended ended = start(root, "sh", "src/catchbay", "demo");
        assertEquals(0, ended.code, ended.errors);
        assertEquals(
                List.of("install -y -qq --no-install-recommends openjdk-25-jdk-headless"),
                Files.readAllLines(root.resolve("installed")));
        assertTrue(
                ended.errors.contains("Installing the Debian package openjdk-25-jdk-headless"),
                ended.errors);
    }

    @Test
    void asRootItSaysWhatTheDistributionLacks() throws Exception {
        command("id", "echo 0");
        command("apt-cache", "exit 100");
        command("apt-get", "exit 0");
        Ended ended = start(root, "sh", "src/catchbay", "demo");
        assertEquals(SET_UP_FAILED, ended.code);
        assertOneSentence(ended, "no JDK 25 or newer found");
    }

    @Test
    void withoutMavenItSaysWhatToInstall() throws Exception {
        jdk("jdk-25", "25");
        Files.delete(commands.resolve("mvn"));
        Ended ended = start(root, "sh", "src/catchbay", "demo");
        assertEquals(SET_UP_FAILED, ended.code);
        assertOneSentence(ended, "the command mvn is missing: install it (Debian package maven).");
    }

    @Test
    void aFailedBuildShowsItsErrorsAndIsTriedAgain() throws Exception {
        jdk("jdk-25", "25");
        command(
                "mvn",
                "echo '[INFO] long story'; echo '[ERROR] Pump.java:[3,1] missing semicolon'; exit"
                        + " 1");
        for (int attempt = 0; attempt < 2; attempt++) {
            Ended ended = start(root, "sh", "src/catchbay", "demo");
            assertEquals(SET_UP_FAILED, ended.code);
            assertEquals("", ended.output);
            assertTrue(ended.errors.contains("Pump.java:[3,1] missing semicolon"), ended.errors);
            assertFalse(ended.errors.contains("long story"), ended.errors);
            assertTrue(
                    ended.errors.contains("full log: " + root + "/target/catchbay/setup.log"),
                    ended.errors);
        }
    }

    @Test
    void withoutANetworkItAsksForOne() throws Exception {
        jdk("jdk-25", "25");
        command("mvn", "echo '[ERROR] Could not transfer artifact x from y: Unknown host'; exit 1");
        Ended ended = start(root, "sh", "src/catchbay", "demo");
        assertEquals(SET_UP_FAILED, ended.code);
        assertTrue(ended.errors.contains("connect this machine to the network"), ended.errors);
    }

    @Test
    void twoStartsAtOnceBuildOnce() throws Exception {
        jdk("jdk-25", "25");
        command(
                "mvn",
                "sleep 1; echo built >>\""
                        + root
                        + "/builds\"; mkdir -p \""
                        + root
                        + "/target/catchbay/lib\"");
        List<Process> starts = new ArrayList<>();
        for (int i = 0; i < 3; i++) {
            starts.add(process(root, "sh", "src/catchbay", "demo"));
        }
        for (Process process : starts) {
            assertEquals(0, ended(process).code);
        }
        assertEquals(List.of("built"), builds());
    }

    @Test
    void aBuildNeverSwapsTheJarsOfARunningProgram() throws Exception {
        Path jdk = jdk("jdk-25", "25");
        write(jdk.resolve("bin/java"), "#!/bin/sh\necho running\nexec sleep 60\n");
        Process running = process(root, "sh", "src/catchbay", "catch");
        try {
            assertEquals("running", running.inputReader(UTF_8).readLine());
            write(root.resolve("pom.xml"), "<project></project>");
            Ended ended = start(root, "sh", "src/catchbay", "demo");
            assertEquals(SET_UP_FAILED, ended.code);
            assertOneSentence(ended, "is still running and its sources have changed since");
            assertEquals(1, builds().size());
        } finally {
            running.destroy();
            running.waitFor();
        }
        write(jdk.resolve("bin/java"), "#!/bin/sh\nexit 3\n");
        assertEquals(
                3, start(root, "sh", "src/catchbay", "demo").code, "the program's own exit code");
        assertEquals(2, builds().size(), "built once the other has ended");
    }

    @Test
    void aClosedStandardOutputIsRefusedBeforeAnythingBegins() throws Exception {
        jdk("jdk-25", "25");
        Ended ended = start(root, "sh", "-c", "sh src/catchbay catch >&-");
        assertEquals(PROGRAM_FAILED, ended.code, "a result that is lost is no success");
        assertOneSentence(ended, "standard output is closed");
        assertFalse(Files.exists(root.resolve("builds")));
    }

    @Test
    void theProgramNeverOpensAFileInAClosedStreamsPlace() throws Exception {
        Path jdk = jdk("jdk-25", "25");
        write(
                jdk.resolve("bin/java"),
                "#!/bin/sh\nfor stream in 0 2; do readlink /proc/$$/fd/$stream; done\n");
        start(root, "sh", "src/catchbay");
        for (String closed : List.of("<&-", "2>&-", "<&- 2>&-")) {
            Ended ended = start(root, "sh", "-c", "sh src/catchbay catch " + closed);
            assertEquals(0, ended.code, closed + ended.errors);
            List<String> streams = ended.output.lines().toList();
            assertEquals(2, streams.size(), closed + streams);
            assertEquals(
                    closed.contains("<"), streams.getFirst().equals("/dev/null"), closed + streams);
            assertEquals(
                    closed.contains("2"), streams.getLast().equals("/dev/null"), closed + streams);
        }
    }

    private static void assertOneSentence(Ended ended, String part) {
        List<String> lines = ended.errors.lines().filter(line -> !line.endsWith(" ...")).toList();
        assertEquals(1, lines.size(), ended.errors);
        assertTrue(
                lines.getFirst().startsWith("catchbay: ") && lines.getFirst().contains(part),
                ended.errors);
    }

    private Ended start(Path workingFolder, String... line) throws Exception {
        return ended(process(workingFolder, line));
    }

    private Process process(Path workingFolder, String... line) throws IOException {
        ProcessBuilder builder = new ProcessBuilder(line).directory(workingFolder.toFile());
        builder.environment().clear();
        builder.environment().put("PATH", commands.toString());
        builder.environment().put("CATCHBAY_JDK_FOLDERS", folder.resolve("none") + ":" + jdks);
        return builder.start();
    }

    private static Ended ended(Process process) throws Exception {
        process.getOutputStream().close();
        // Both streams are a few lines, far below what a pipe holds, so reading one after the other
        // cannot block.
        String output = new String(process.getInputStream().readAllBytes(), UTF_8);
        String errors = new String(process.getErrorStream().readAllBytes(), UTF_8);
        assertTrue(process.waitFor(60, TimeUnit.SECONDS), "the script ends");
        return new Ended(process.exitValue(), output, errors);
    }

    /** A JDK whose java prints its arguments, one a line. */
    private Path jdk(String name, String version) throws IOException {
        Path jdk = jdks.resolve(name).normalize();
        write(jdk.resolve("bin/java"), "#!/bin/sh\nfor argument; do echo \"$argument\"; done\n");
        write(jdk.resolve("bin/javac"), "#!/bin/sh\n");
        write(jdk.resolve("release"), "IMPLEMENTOR=\"x\"\nJAVA_VERSION=\"" + version + "\"\n");
        return jdk;
    }

    private void command(String name, String body) throws IOException {
        write(commands.resolve(name), "#!/bin/sh\n" + body + "\n");
    }

    private List<String> builds() throws IOException {
        return Files.readAllLines(root.resolve("builds"));
    }

    private static void write(Path file, String text) throws IOException {
        Files.createDirectories(file.getParent());
        Files.writeString(file, text);
        assertTrue(file.toFile().setExecutable(true));
    }

    private static Path found(String command) {
        return Stream.of("/usr/bin", "/bin")
                .map(bin -> Path.of(bin, command))
                .filter(Files::isExecutable)
                .findFirst()
                .orElseThrow(() -> new IllegalStateException(command + " is not on this machine"));
    }
}
