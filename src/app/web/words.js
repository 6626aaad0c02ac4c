// What the page itself says; the program brings its own words.
const WORDS = {
  en: {
    fetching: 'The workshop is being fetched …',
    starting: 'Opening the workshop …',
    noWasm: 'This browser cannot run Tracebay: it has no WebAssembly. A current browser has.',
    noGraphics: 'This browser shows no 3D pictures (WebGL 2), which Tracebay needs. Switch on hardware acceleration in its settings, or take another browser. The program for the terminal needs none.',
    notFetched: 'The program could not be fetched. Is there a connection? What you did before is kept in this browser.',
    stopped: 'The program stopped. Every action up to here is kept: load the page again and go on.',
    contextLost: 'The browser took the 3D pictures away from this page. Every action up to here is kept: load the page again and go on.',
    stoppedUnkept: 'The program stopped. This browser lets the page keep nothing: save this attempt as a file, or it is gone with the page.',
    contextLostUnkept: 'The browser took the 3D pictures away from this page, and lets it keep nothing: save this attempt as a file, or it is gone with the page.',
    tooLarge: 'larger than 16 MiB',
    again: 'Load again',
    save: 'Save as a file',
    version: 'Version',
    news: 'A new version is here. A car is best finished with the version it was begun with: another version may not be able to go on with it.',
    take: 'Take the new version',
    later: 'Later',
    listen: 'Read this page with a screen reader',
  },
  es: {
    fetching: 'Se está descargando el taller …',
    starting: 'Abriendo el taller …',
    noWasm: 'Este navegador no puede ejecutar Tracebay: no tiene WebAssembly. Un navegador actual sí.',
    noGraphics: 'Este navegador no muestra imágenes en 3D (WebGL 2), que Tracebay necesita. Active la aceleración por hardware en sus ajustes o use otro navegador. El programa para la terminal no las necesita.',
    notFetched: 'No se pudo descargar el programa. ¿Hay conexión? Lo que hizo antes está guardado en este navegador.',
    stopped: 'El programa se detuvo. Todo lo hecho hasta aquí está guardado: vuelva a cargar la página y siga.',
    contextLost: 'El navegador le quitó a esta página las imágenes en 3D. Todo lo hecho hasta aquí está guardado: vuelva a cargar la página y siga.',
    stoppedUnkept: 'El programa se detuvo. Este navegador no deja que la página guarde nada: guarde este intento como archivo o se perderá con la página.',
    contextLostUnkept: 'El navegador le quitó a esta página las imágenes en 3D y no la deja guardar nada: guarde este intento como archivo o se perderá con la página.',
    tooLarge: 'mayor de 16 MiB',
    again: 'Cargar de nuevo',
    save: 'Guardar como archivo',
    version: 'Versión',
    news: 'Hay una versión nueva. Conviene terminar el auto con la versión con que se empezó: otra quizá no pueda seguir con él.',
    take: 'Usar la versión nueva',
    later: 'Después',
    listen: 'Leer esta página con un lector de pantalla',
  },
};

/** The language chosen in the program's settings; nothing where there are none. */
function chosen() {
  try {
    return JSON.parse(localStorage.getItem('tracebay/settings'))?.language;
  } catch {
    return undefined;
  }
}

// What the program begins with where nobody chose.
document.documentElement.dataset.language = navigator.language;
const asked = new URLSearchParams(location.search).get('language') ?? chosen() ?? navigator.language;
const language = String(asked).toLowerCase().startsWith('es') ? 'es' : 'en';
document.documentElement.lang = language;
export const say = WORDS[language];
