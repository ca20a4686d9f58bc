package catchbay.architecture;

import static org.junit.jupiter.api.Assertions.assertEquals;

import com.tngtech.archunit.core.domain.JavaClass;
import com.tngtech.archunit.core.domain.JavaClasses;
import com.tngtech.archunit.core.importer.ClassFileImporter;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Set;
import java.util.TreeSet;
import java.util.stream.Collectors;
import java.util.stream.Stream;

/** The compiled classes of the module whose tests run, proven to be all of its source tree. */
final class Imported {

    private static final Path SOURCES = Path.of("src", "main", "java");

    private Imported() {}

    static JavaClasses mainClasses() {
        return new ClassFileImporter().importPath(Path.of("target", "classes"));
    }

    /**
     * A rule that looked at nothing would pass for ever; so every source file must have its class
     * here.
     */
    static void assertComplete(JavaClasses classes) {
        Set<String> imported =
                classes.stream()
                        .filter(javaClass -> !javaClass.getSimpleName().equals("package-info"))
                        .map(JavaClass::getName)
                        .filter(name -> !name.contains("$"))
                        .collect(Collectors.toCollection(TreeSet::new));
        assertEquals(
                sourceClasses(),
                imported,
                "classes in src/main/java against classes the rules looked at");
    }

    /**
     * Each class named as an exception to a rule must exist, or the exception outlives its reason.
     */
    static void assertExist(JavaClasses classes, Set<String> names) {
        Set<String> missing =
                names.stream()
                        .filter(name -> !classes.contain(name))
                        .collect(Collectors.toCollection(TreeSet::new));
        assertEquals(
                Set.of(), missing, "excepted classes that do not exist: take them off the list");
    }

    private static Set<String> sourceClasses() {
        try (Stream<Path> files = Files.walk(SOURCES)) {
            return files.map(file -> SOURCES.relativize(file).toString())
                    .filter(file -> file.endsWith(".java") && !file.endsWith("package-info.java"))
                    .map(file ->
                            file.substring(0, file.length() - ".java".length()).replace('/', '.'))
                    .collect(Collectors.toCollection(TreeSet::new));
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }
}
